"""A ship in the condition her card does not speak of: laden where she is light today, in ballast where she is laden."""

from leadsman.assessment.estimates import particulars
from leadsman.errors import CannotCompute
from leadsman.ship import Loading, Ship, ShipType

# Least mean draught in ballast of [MARPOL1_18]: 2.0 m + 0.02 L, trim by the stern at most 0.015 L
# (memory); made for tankers, and what dry cargo ships keep too (common practice, no source).
BALLAST_DRAUGHT = 2.0  # m
BALLAST_BY_LENGTH = 0.02
BALLAST_TRIM = 0.01  # of the length, two thirds of what the regulation allows (judgement)
SCREW_COVERED = 1.05  # draught aft over propeller diameter: the regulation asks for full immersion (memory)
NEVER_LIGHT = {ShipType.CONTAINER, ShipType.RO_RO, ShipType.CAR_CARRIER, ShipType.FERRY, ShipType.CRUISE}
LIGHTEST = 0.80  # of the summer draught, for those that never sail empty (judgement)


def other_condition(ship: Ship, loading: Loading) -> Loading:
    """The same ship in ballast where she is laden today, laden to her marks where she is in ballast; estimated.

    Only condition, draughts and density are filled in: displacement, stability, windage and air draught follow from
    them as for any card that leaves them out. `CannotCompute` where her summer draught or length cannot be known.
    """
    found = particulars(ship, loading, names=("summer_draught", "length_between_perpendiculars", "propeller_diameter"))
    if "summer_draught" not in found:
        raise CannotCompute(f"{ship.name}: her summer draught is not known, nor what is usual for her kind")
    summer = found["summer_draught"].value
    if loading.condition == "ballast":
        return _floating(loading, "loaded", summer, 0.0)
    length = found["length_between_perpendiculars"].value
    if ship.kind in NEVER_LIGHT:
        return _floating(loading, "ballast", LIGHTEST * summer, 0.0)
    trim = BALLAST_TRIM * length
    covered = SCREW_COVERED * found["propeller_diameter"].value - 0.5 * trim
    mean = min(LIGHTEST * summer, max(BALLAST_DRAUGHT + BALLAST_BY_LENGTH * length, covered))
    return _floating(loading, "ballast", mean, trim)


def _floating(today: Loading, condition: str, mean: float, trim: float) -> Loading:
    return Loading(
        condition=condition,
        draught_forward=mean - 0.5 * trim,
        draught_aft=mean + 0.5 * trim,
        water_density=today.water_density,
    )
