"""The manoeuvres of poster and booklet, estimated from the card: both conditions, deep and shallow, with bands.

Deep-water circles and stops begin at full sea speed; shallow circles at half ahead, since nobody runs at sea speed with
a fifth of her draught under her.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np

from leadsman.assessment.conditions import other_condition
from leadsman.assessment.estimates import particulars
from leadsman.assessment.manoeuvres import model_of
from leadsman.assessment.own_figures import with_own_figures
from leadsman.assessment.posted_result import (
    Moment,
    Posted,
    PostedCircle,
    PostedRecovery,
    PostedSquat,
    PostedStop,
    PostedWater,
    Spread,
    Track,
)
from leadsman.equipment import AHEAD_ORDERS
from leadsman.errors import CannotCompute
from leadsman.physics import squat
from leadsman.physics.channel import Kind, Section
from leadsman.ship import Loading, Ship
from leadsman.simulation import recovery, stopping, turning
from leadsman.simulation.bands import HIGH, LOW
from leadsman.simulation.estimate import Estimate
from leadsman.simulation.factors import Factors, applied, drawn
from leadsman.simulation.kernel import AFLOAT
from leadsman.simulation.parameters import Array, packed
from leadsman.simulation.setting import COLUMN, Setting, Steady, crossing, speed_of
from leadsman.simulation.state import Surroundings, deep_calm, even_depth
from leadsman.units import DEGREE, SEA_WATER_DENSITY

SHALLOW = 1.2  # depth by draught of the shallow diagrams: what forms and PIANC take (common practice)
DRAWS, SEED = 40, 1  # of the uncertain ship: the ends of the bands are then good to about a tenth of their width
HEADINGS = (90.0, 180.0, 270.0, 360.0)  # degrees of heading change at which time and speed stand on the diagram
SPEEDS = ("full_sea_speed", *AHEAD_ORDERS)
CLEARANCES = (0.10, 0.20, 0.50, 1.00)  # of the draught, for the squat table
HEELS = (1.0, 2.0, 4.0, 8.0)  # degrees
POINTS = 160  # of a track on paper
FULL_END = 2.0  # deviations above the block coefficient for squat: its full end, where squat is greater


@dataclass(frozen=True)
class _Water:
    """What is tried in one depth: from which order she turns, from which she stops and how."""

    depth_to_draught: float | None
    turn_from: str
    stop_from: tuple[str, ...]
    stop_by: tuple[str, ...]
    orders: tuple[str, ...] = ()
    """Ahead orders of her card, the fastest first."""

    def of(self, ship: Ship) -> "_Water":
        """The same with the orders of her card alone, and turned from the fastest where the usual one is not on it."""
        orders = tuple(name for name in SPEEDS if ship.engine.order(name) is not None) or ("full_ahead",)
        turn_from = self.turn_from if self.turn_from in orders else orders[0]
        return replace(
            self, turn_from=turn_from, stop_from=tuple(name for name in self.stop_from if name in orders), orders=orders
        )


WATERS = (
    _Water(
        None, "full_sea_speed", ("full_sea_speed", "full_ahead", "half_ahead", "slow_ahead"), ("full_astern", "stop")
    ),
    _Water(SHALLOW, "half_ahead", ("full_ahead", "half_ahead", "slow_ahead"), ("full_astern",)),
)


def posted_manoeuvres(ship: Ship, loading: Loading) -> Posted:
    """Turning, stopping, recovery and squat, loaded and in ballast, deep and at 1.2 times the draught.

    The condition the card does not speak of is estimated. `CannotCompute` where the model cannot do with the card.
    """
    loadings = [(loading, False)]
    with suppress(CannotCompute):  # then today's condition alone: the drawings say which they are for
        loadings.append((other_condition(ship, loading), True))
    loadings.sort(key=lambda one: one[0].condition == "ballast")
    assumed: list[str] = []
    waters: list[PostedWater] = []
    back: PostedRecovery | None = None
    length = 0.0
    for each, estimated in loadings:
        model, taken = model_of(ship, each)
        assumed += [sentence for sentence in taken if sentence not in assumed]
        waters += [_water(model, each, estimated, water.of(ship)) for water in WATERS]
        if not estimated:
            setting = model.setting(deep_calm(each.water_density or SEA_WATER_DENSITY))
            length, back = setting.length, _recovery(setting)
    deepest = max((one for one, _ in loadings), key=lambda one: one.draught)
    return Posted(
        length=length,
        waters=tuple(waters),
        recovery=back,
        clearances=CLEARANCES,
        squats=tuple(_squats(ship, deepest)),
        heels=tuple((heel * DEGREE, 0.5 * ship.beam * math.sin(heel * DEGREE)) for heel in HEELS),
        assumed=tuple(assumed),
        draws=DRAWS,
        podded=any(propeller.podded for propeller in ship.propellers),
    )


def _water(model: Estimate, loading: Loading, estimated: bool, water: _Water) -> PostedWater:
    density = loading.water_density or SEA_WATER_DENSITY
    around = (
        deep_calm(density)
        if water.depth_to_draught is None
        else even_depth(water.depth_to_draught * loading.draught, density)
    )
    spread = drawn(Factors(), model.spread, DRAWS, np.random.default_rng(SEED))
    tried = [_tried(model, factors, around, water) for factors in spread]
    first = tried[0]
    turned = [one.circles for one in tried if len(one.circles) == len(first.circles)]
    circles = tuple(_circle([one[index] for one in turned], len(tried)) for index in range(len(first.circles)))
    stops = tuple(_stop([one.stops[key] for one in tried if key in one.stops], len(tried)) for key in first.stops)
    return PostedWater(
        condition=loading.condition,
        loading_estimated=estimated,
        draught_forward=loading.draught_forward,
        draught_aft=loading.draught_aft,
        depth_to_draught=water.depth_to_draught,
        speeds=tuple((name, steady.speed) for name, steady in first.steady.items()),
        aground=first.aground,
        circles=circles,
        stops=stops,
    )


@dataclass(frozen=True)
class _Tried:
    """One draw of the ship, tried."""

    steady: Mapping[str, Steady]
    """By order, as far as she stays afloat under it."""
    aground: tuple[str, ...]
    circles: tuple[turning.TurningCircle, ...]
    stops: Mapping[tuple[str, str], stopping.Stop]


def _tried(model: Estimate, factors: Factors, around: Surroundings, water: _Water) -> _Tried:
    setting = Setting(fleet=packed(applied(model.parameters, factors)), orders=model.orders, around=around)
    every = {name: setting.steady(name) for name in water.orders}
    steady = {name: found for name, found in every.items() if found.standing == AFLOAT}
    return _Tried(
        steady=steady,
        aground=tuple(name for name in every if name not in steady),
        circles=tuple(
            turning.turning_circle(setting, water.turn_from, side * setting.hard_over, steady[water.turn_from])
            for side in (1, -1)
            if water.turn_from in steady
        ),
        stops={
            (order, by): stopping.stop(setting, order, by, steady[order])
            for order in water.stop_from
            if order in steady
            for by in water.stop_by
        },
    )


def _circle(every: Sequence[turning.TurningCircle], draws: int) -> PostedCircle:
    """The undisturbed ship's circle, and how the draws that stayed afloat scatter about it."""
    first = every[0]
    return PostedCircle(
        side=first.side,
        rudder=abs(first.rudder),
        order=first.order,
        approach_speed=first.approach_speed,
        advance=_spread([one.advance for one in every], draws),
        transfer=_spread([one.transfer for one in every], draws),
        tactical_diameter=_spread([one.tactical_diameter for one in every], draws),
        moments=tuple(_moments(first)),
        track=_thinned(first.track),
    )


def _moments(circle: turning.TurningCircle) -> Iterator[Moment]:
    sided = circle.track.copy()
    sided[:, COLUMN["heading"]] *= circle.side
    for heading in HEADINGS:
        line = crossing(sided, "heading", heading * DEGREE)
        if line is not None:
            yield Moment(
                heading_change=heading * DEGREE,
                time=float(line[COLUMN["time"]]),
                speed=speed_of(line),
                north=float(line[COLUMN["north"]]),
                east=float(line[COLUMN["east"]]),
            )


def _stop(every: Sequence[stopping.Stop], draws: int) -> PostedStop:
    """The same for a stop."""
    first = every[0]
    return PostedStop(
        order=first.order,
        stopped_by=first.stopped_by,
        approach_speed=first.approach_speed,
        end_speed=first.end_speed,
        stopped=first.stopped,
        track_reach=_spread([one.track_reach if one.stopped else None for one in every], draws),
        time=_spread([one.time if one.stopped else None for one in every], draws),
        head_reach=first.head_reach,
        side_reach=first.side_reach,
        heading_change=first.heading_change,
        track=_thinned(first.track),
    )


def _spread(values: Sequence[float | None], draws: int) -> Spread:
    """The undisturbed ship's figure, and the ends of its band; no band where a tenth of the draws or more fail."""
    known = np.array([value for value in values if value is not None])
    if values[0] is None or known.size < 0.9 * draws:
        return Spread(value=values[0])
    low, high = np.quantile(known, (LOW, HIGH))
    return Spread(value=values[0], low=float(low), high=float(high))


def _recovery(setting: Setting) -> PostedRecovery | None:
    found = recovery.onto_her_track(setting, "full_ahead", 1)
    if found is None:
        return None
    return PostedRecovery(
        side=found.side,
        order=found.order,
        away=found.away,
        time_shifted=found.time_shifted,
        time_eased=found.time_eased,
        time_back=found.time_back,
        offset=found.offset,
        ahead=found.ahead,
        track=_thinned(found.track),
    )


def _thinned(track: Array) -> Track:
    lines = np.unique(np.linspace(0, len(track) - 1, min(POINTS, len(track))).astype(int))
    return tuple((float(line[COLUMN["north"]]), float(line[COLUMN["east"]])) for line in track[lines])


def _squats(ship: Ship, loading: Loading) -> Iterator[PostedSquat]:
    """The greatest of the methods that fit her, in open water, at the speeds of the card's orders; laden."""
    ship, loading = with_own_figures(ship, loading)
    found = particulars(ship, loading, names=("length_between_perpendiculars", "block_coefficient"))
    if len(found) < 2:
        return
    block = found["block_coefficient"]
    deviation = 0.0 if block.band is None else block.band.deviation or 0.0
    hull = squat.Hull(
        length_between_perpendiculars=found["length_between_perpendiculars"].value,
        beam=ship.beam,
        draught=loading.mean_draught,
        trim=loading.trim,
        block_coefficient=block.value + FULL_END * deviation,
        propellers=float(max(1, len(ship.propellers))),
        bulbous_bow=float(bool(ship.bulbous_bow)),
        transom_stern=0.0,
    )
    depths = loading.draught * (1.0 + np.array(CLEARANCES))
    section = Section(kind=float(Kind.UNRESTRICTED), water_depth=depths, bottom_width=np.nan, slope=np.nan)
    fitting = _fitting(hull)[:, np.newaxis]
    for name in SPEEDS:
        line = ship.engine.order(name)
        speed = None if line is None else line.speed_loaded
        if not speed:
            continue
        compared = squat.compare(speed, hull, section)
        both = compared.comparable & fitting
        largest = squat.largest(compared.greatest, np.where(np.any(both, axis=0), both, compared.comparable))
        outside = np.take_along_axis(compared.outside, largest.method[np.newaxis], axis=0)[0]
        yield PostedSquat(
            order=name,
            speed=speed,
            squats=tuple(float(value) for value in largest.value),
            outside=tuple(bool(flag) for flag in outside),
        )


def _fitting(hull: squat.Hull) -> "np.ndarray[tuple[int], np.dtype[np.bool_]]":
    """Which methods were published for a hull of her proportions."""
    proportions = {
        "block_coefficient": hull.block_coefficient,
        "length_to_beam": hull.length_between_perpendiculars / hull.beam,
        "beam_to_draught": hull.beam / hull.draught,
        "length_to_draught": hull.length_between_perpendiculars / hull.draught,
    }
    return np.array([not squat.METHODS[name].outside(**proportions) for name in squat.NAMES])
