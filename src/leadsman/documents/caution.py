"""The cautions every page and sheet carries (our own words, after the habit of A.601(15), annex 3.2)."""

SHORT_CAUTION = (
    "For planning only, not for navigation. The master, the pilot, official charts, notices and local rules decide. "
    "Figures hold only for the stated draught, depth, weather and time."
)

CAUTIONS = (
    "Figures hold only for the stated draught, trim, hull condition, depth, wind, sea and stream. Other draughts, "
    "unusual trim, shallow or confined water, wind, stream or fouling make the ship behave otherwise.",
    "Estimates are marked estimated, assumptions are marked assumed; each figure says where it comes from.",
    "The master keeps command and responsibility; the pilot's local knowledge and the law of the place come first. "
    "This aid gives no order to helm or engine and does not replace their judgement.",
    "Local regulations, harbour master, traffic service and terminal limits prevail over any number here.",
    "Official, corrected charts, tide tables, notices and warnings prevail; this is no chart. Depths change: check "
    "date and datum.",
    "Position and motion must be checked by other means; nothing here is live.",
    "Card values are as given by the ship; implausible ones were questioned, not corrected.",
    "If reality departs from the plan beyond the stated margin: stop and plan again.",
    "Record who agreed what and when; a signature records an exchange, it does not shift responsibility.",
)
