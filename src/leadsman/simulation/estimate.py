"""A ship that can move, made from the plain numbers of a card: everything missing estimated, with source and band."""

from dataclasses import dataclass

from leadsman.figure import Figure
from leadsman.simulation import estimate_hull, estimate_propulsion
from leadsman.simulation.factors import PRIOR, Factors
from leadsman.simulation.parameters import Parameters, Tables, packed, shallow_table
from leadsman.simulation.particulars import Particulars
from leadsman.simulation.setting import Order, Setting
from leadsman.simulation.state import Surroundings, deep_calm


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """A ship ready to move, her orders, where her figures come from, and how far the uncertain ones may be off.

    `spread` holds one standard deviation of the logarithm of each factor of `Factors`.
    """

    parameters: Parameters
    orders: dict[str, Order]
    figures: tuple[Figure, ...]
    spread: Factors

    def setting(self, around: Surroundings | None = None) -> Setting:
        """Ready for trials, in deep calm water unless told otherwise."""
        return Setting(fleet=packed(self.parameters), orders=self.orders, around=around or deep_calm())


def estimate(card: Particulars) -> Estimate:
    """Estimate all the model needs from a card.

    Source: [YoshimuraMasumoto2012], [Zhou1983], [HoltropMennen1982], [OosterveldOossanen1975], [RoddyHessFaller2006]
    and those named in the figures; which set, and why, in docs/methods/manoeuvring.md. Limits: merchant ships, block
    coefficient 0.5 to 0.87, length/beam 4 to 8.
    """
    body, hull_figures = estimate_hull.hull(card)
    drive = estimate_propulsion.drive(card, body)
    flow = estimate_propulsion.waterflow(card)
    rudders, rudder_figures = estimate_hull.rudders(card, flow.wake, flow.diameter)
    tables = Tables(
        thrust=drive.thrust,
        torque=drive.torque,
        pitches=drive.pitches,
        shallow=shallow_table(drive.hull),
        wind=card.wind,
    )
    parameters = Parameters(
        hull=drive.hull, propellers=drive.propellers, rudders=rudders, engines=drive.engines, tables=tables
    )
    return Estimate(
        parameters=parameters,
        orders=with_missing_orders(card, drive.orders, drive.idle),
        figures=(*hull_figures, *drive.figures, *rudder_figures),
        spread=PRIOR,
    )


ASTERN_SHARE = (
    0.75  # of the full ahead manoeuvring shaft speed, where a card gives no astern line (sheet 5: 70 to 80 %)
)


LESS_ASTERN = {"half_astern": 0.75, "slow_astern": 0.55, "dead_slow_astern": 0.40}
"""Of full astern, shaft speed or pitch, where a card gives no such line: common practice, no source."""


def with_missing_orders(card: Particulars, orders: dict[str, Order], idle: Order) -> dict[str, Order]:
    """The card's orders, and those every trial and plan needs: full sea speed, full, half, all astern; stop is
    `idle`."""
    fastest = card.fastest.order
    controllable = card.screws[0].controllable
    found = dict(orders)
    found.setdefault("full_sea_speed", found[fastest])
    found.setdefault("full_ahead", found["full_sea_speed"])
    full = found["full_ahead"]
    half = (
        full._replace(pitch_ratio=0.6 * full.pitch_ratio)
        if controllable
        else full._replace(shaft_speed=0.7 * full.shaft_speed)
    )
    found.setdefault("half_ahead", half)
    found["stop"] = idle
    astern = (
        Order(full.shaft_speed, -ASTERN_SHARE * full.pitch_ratio)
        if controllable
        else Order(-ASTERN_SHARE * full.shaft_speed, full.pitch_ratio)
    )
    full_astern = found.setdefault("full_astern", astern)
    for order, share in LESS_ASTERN.items():
        less = (
            full_astern._replace(pitch_ratio=share * full_astern.pitch_ratio)
            if controllable
            else full_astern._replace(shaft_speed=share * full_astern.shaft_speed)
        )
        found.setdefault(order, less)
    return found
