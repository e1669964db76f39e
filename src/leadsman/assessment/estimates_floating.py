"""How she floats today: draughts along and across, weight, and what the water's density does to her."""

from collections.abc import Mapping

from leadsman import format as text
from leadsman.assessment.estimate import Estimate, Known, Worked, always, computed, estimated, given, of_range, read
from leadsman.figure import Figure, Origin
from leadsman.physics import density, form
from leadsman.units import DEGREE, SEA_WATER_DENSITY

READING = 0.05  # m, one deviation of a draught read in calm water: water sheet 7, memory
HYDROMETER = 2.0  # kg/m³, water sheet 7, memory
STATED_MASS = 0.01  # of the displacement on a card: loading computer and constant, common practice
DRAUGHT_LAW = 0.015  # of the block coefficient, near the draught it is known for; judgement
DRAUGHT_LAW_FAR = 0.05  # the same at half that draught; judgement
BRACKISH = 1010.0  # kg/m³, the density the sinkage in brackish water is told for


def draught_forward(known: Known) -> Worked:
    """As read."""
    return read(known.loading.draught_forward, "draught_forward", READING)


def draught_aft(known: Known) -> Worked:
    """As read."""
    return read(known.loading.draught_aft, "draught_aft", READING)


def mean_draught(known: Known) -> Worked:
    """Mean of the ends."""
    ends = known.value("draught_forward"), known.value("draught_aft")
    return computed(0.5 * sum(ends), "mean of the ends", "CardIdentities")


def trim(known: Known) -> Worked:
    """By the stern positive."""
    return computed(known.value("draught_aft") - known.value("draught_forward"), "aft less forward", "CardIdentities")


def draught_midships(known: Known) -> Worked:
    """Mean of the marks; without marks, a straight keel."""
    loading = known.loading
    marks = [m for m in (loading.draught_midships_port, loading.draught_midships_starboard) if m is not None]
    if marks:
        return computed(sum(marks) / len(marks), "mean of the midships marks", "CardIdentities", READING)
    # Laden ships sag and light ships hog by up to a thousandth of their length [common practice].
    bend = known.value("length_between_perpendiculars") / 1500.0
    mean = known.value("mean_draught")
    return Worked(mean, Origin.ASSUMED, "a straight keel: no midships marks", "CardPractice", bend)


def sag(known: Known) -> Worked:
    """Midships deeper than the mean of the ends; negative: hog."""
    bend = known.value("draught_midships") - known.value("mean_draught")
    return computed(bend, "midships less the mean of the ends", "CardIdentities")


def list_angle(known: Known) -> Worked:
    """From the two marks, else as the card says, else assumed upright."""
    loading = known.loading
    port, starboard = loading.draught_midships_port, loading.draught_midships_starboard
    if port is not None and starboard is not None:
        angle = form.list_from_draughts(port, starboard, known.ship.beam)
        return computed(angle, "difference of the midships marks", "CardIdentities", READING / known.ship.beam)
    return given(loading.list_angle, "list_angle", 0.25 * DEGREE) or Worked(
        0.0, Origin.ASSUMED, "upright: neither marks nor a list on the card", "CardPractice", 0.5 * DEGREE
    )


def deepest_draught(known: Known) -> Worked:
    """The deepest of ends and midships, and the low side of a list."""
    deepest = max(known.value("draught_forward"), known.value("draught_aft"), known.value("draught_midships"))
    low = 0.5 * known.ship.beam * abs(known.value("list_angle"))
    return computed(deepest + low, "deepest of ends and midships, and half the beam times the list", "CardIdentities")


def water_density(known: Known) -> Worked:
    """Of the water the draughts were read in."""
    return given(known.loading.water_density, "water_density", HYDROMETER) or Worked(
        SEA_WATER_DENSITY, Origin.ASSUMED, "sea water: the card does not say", "CardPractice", 10.0
    )


def displacement(known: Known) -> Worked:
    """As given, unless her block coefficient is known better; else by block coefficient."""
    stated, block = known.loading.displacement, known.overruled.get("block_coefficient")
    if stated is not None and block is None:
        return read(stated, "displacement", STATED_MASS * stated)
    draught = known.value("mean_draught")
    box = known.value("water_density") * known.value("length_between_perpendiculars") * known.ship.beam * draught
    if block is not None:
        return computed(block * box, "block coefficient x length x beam x draught x density", "CardIdentities")
    summer, plane, reference = _summer(known)
    block = float(form.block_at_draught(summer, plane, reference, draught))
    away = min(1.0, abs(1.0 - draught / reference) / 0.5)
    share = DRAUGHT_LAW + away * (DRAUGHT_LAW_FAR - DRAUGHT_LAW)
    method = "summer block coefficient brought to today's draught, times length, beam, draught and density"
    return estimated(block * box, method, "DerivedForm", share * block * box)


def _summer(known: Known) -> tuple[float, float, float]:
    block = known.value("summer_block_coefficient")
    return block, float(form.waterplane_one_third(block)), known.value("summer_draught")


def summer_draught(known: Known) -> Worked:
    """As given; else by her beam and type, and no less than she draws laden today."""
    stated = given(known.ship.summer_draught, "summer_draught")
    if stated is not None:
        return stated
    low, high = known.typical.beam_to_draught
    worked = of_range((known.ship.beam / high, known.ship.beam / low), 1.0, "beam by the ratio usual for her type")
    if known.loading.condition == "loaded" and worked.value < known.loading.mean_draught:
        return estimated(known.loading.mean_draught, "what she draws laden today", "CardPractice", 0.5)
    return worked


def mass_per_immersion(known: Known) -> Worked:
    """What sinks her by one metre here."""
    found = form.immersion(
        known.value("length_between_perpendiculars"),
        known.ship.beam,
        known.value("waterplane_coefficient"),
        known.value("water_density"),
    )
    return estimated(found, "waterplane area x density", "DerivedForm", 0.01 * found)


def trimming_moment(known: Known) -> Worked:
    """What trims her by one metre here."""
    found = form.trimming_moment(
        known.value("length_between_perpendiculars"),
        known.ship.beam,
        known.value("waterplane_coefficient"),
        known.value("water_density"),
    )
    method = "inertia of the waterplane by its coefficient"
    return estimated(found, method, "SchneekluthBertram1998", 0.08 * found)


def fresh_water_allowance(known: Known) -> Worked:
    """Sinkage from sea water to fresh water, today."""
    sea = known.value("mass_per_immersion") * SEA_WATER_DENSITY / known.value("water_density")
    found = density.fresh_water_allowance(known.value("displacement"), sea)
    return computed(found, "displacement / (4 TPC)", "LoadLines1966")


def brackish_sinkage(known: Known) -> Worked:
    """Sinkage from the water the draughts were read in to brackish water of 1010 kg/m³; negative: she rises."""
    found = density.sinkage(
        known.value("mean_draught"),
        known.value("block_coefficient"),
        known.value("waterplane_coefficient"),
        known.value("water_density"),
        BRACKISH,
    )
    return computed(found, f"her weight stays, density to {BRACKISH:.0f} kg/m³", "DerivedForm")


Figures = Mapping[str, Figure]


def _trim_means(figures: Figures) -> str:
    value = figures["trim"].value
    if abs(value) < 0.05:
        return "On even keel she answers as her trials say."
    if value > 0.0:
        return f"Trimmed {text.metres(value)} by the stern she holds course better and turns wider than on even keel."
    return f"Trimmed {text.metres(-value)} by the head she is hard to hold: she overshoots, and checks late."


def _sag_means(figures: Figures) -> str:
    value = figures["sag"].value
    if abs(value) < 0.02:
        return "Her keel is straight, as far as is known."
    way = "sags: midships is the deepest of her keel" if value > 0.0 else "hogs: her ends are the deepest of her keel"
    return f"She {way}, by {text.metres(abs(value))}."


def _list_means(figures: Figures) -> str:
    value = figures["list_angle"].value
    if abs(value) < 0.1 * DEGREE:
        return "Upright, she needs no helm for list."
    side = "starboard" if value > 0.0 else "port"
    return f"Listed {abs(value) / DEGREE:.1f}° to {side} she draws more on that side and carries helm."


def _displacement_means(figures: Figures) -> str:
    mass = figures["displacement"].value
    energy = 0.5 * mass * (1852.0 / 3600.0) ** 2 / 1e6
    return f"At one knot she carries {energy:.0f} MJ to be taken off; at two knots four times that."


def _immersion_means(figures: Figures) -> str:
    return f"One centimetre of draught is {figures['mass_per_immersion'].value / 1e5:.1f} t."


def _moment_means(figures: Figures) -> str:
    moment = figures["trimming_moment"].value / 1e5
    return f"{moment:.0f} t moved one metre along her trim her one centimetre."


def _fresh_means(figures: Figures) -> str:
    value = figures["fresh_water_allowance"].value
    return f"From sea to fresh water she sinks {text.metres(value)}; half way, half of it."


def _brackish_means(figures: Figures) -> str:
    value = figures["brackish_sinkage"].value
    way = "deeper" if value >= 0.0 else "higher"
    return f"In water of 1010 kg/m³ she floats {text.metres(abs(value))} {way} than read."


def _deepest_means(figures: Figures) -> str:
    return f"Nothing of her lies deeper at rest than {text.metres(figures['deepest_draught'].value)}."


ESTIMATES = {
    "draught_forward": Estimate(
        unit="m",
        function=draught_forward,
        meaning=always("With the after draught it gives mean draught and trim."),
    ),
    "draught_aft": Estimate(
        unit="m",
        function=draught_aft,
        meaning=always("Covers rudder and propeller; under them the bed is felt first when she squats aft."),
    ),
    "mean_draught": Estimate(
        unit="m", function=mean_draught, meaning=always("What her displacement and her shallow-water behaviour go by.")
    ),
    "trim": Estimate(unit="m", function=trim, meaning=_trim_means),
    "draught_midships": Estimate(
        unit="m",
        function=draught_midships,
        meaning=always("Beside the mean of the ends it says how her keel is bent: deeper she sags, shoaler she hogs."),
    ),
    "sag": Estimate(unit="m", function=sag, meaning=_sag_means),
    "list_angle": Estimate(unit="rad", function=list_angle, meaning=_list_means),
    "deepest_draught": Estimate(
        unit="m",
        function=deepest_draught,
        meaning=_deepest_means,
    ),
    "summer_draught": Estimate(
        unit="m",
        function=summer_draught,
        meaning=always("The deepest she may lie in sea water in summer."),
    ),
    "water_density": Estimate(
        unit="kg/m³",
        function=water_density,
        meaning=always("In lighter water than this she floats deeper than she was read."),
    ),
    "displacement": Estimate(unit="kg", function=displacement, meaning=_displacement_means),
    "mass_per_immersion": Estimate(unit="kg/m", function=mass_per_immersion, meaning=_immersion_means),
    "trimming_moment": Estimate(unit="kg m/m", function=trimming_moment, meaning=_moment_means),
    "fresh_water_allowance": Estimate(unit="m", function=fresh_water_allowance, meaning=_fresh_means),
    "brackish_sinkage": Estimate(unit="m", function=brackish_sinkage, meaning=_brackish_means),
}
