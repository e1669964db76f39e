"""The particulars the manoeuvring model is made of, from the one home of estimates."""

from leadsman.assessment.estimates import particulars as estimated
from leadsman.ship import Loading, Ship
from leadsman.simulation.from_ship import Reading, particulars


def reading_of(ship: Ship, loading: Loading) -> Reading:
    """What the model needs of a ship so loaded, card first and estimates for the rest.

    Raises
    ------
    ValueError
        Naming what is missing or defective so that she cannot be moved or steered.
    """
    known = estimated(ship, loading)

    def value(name: str) -> float | None:
        return known[name].value if name in known else None

    return particulars(
        ship,
        loading,
        length=value("length_between_perpendiculars"),
        displacement=value("displacement"),
        lateral_windage=value("lateral_windage"),
        frontal_windage=value("frontal_windage"),
        windage_centroid=value("windage_forward") or 0.0,
        windage_height=value("windage_height"),
    )
