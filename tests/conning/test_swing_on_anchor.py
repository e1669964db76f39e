"""Swung on an anchor: what the anchor pulls with against statics, the space she needs with it and without."""

import math

import pytest
from tests.builders.open_water import COLUMN, made, space, swing

from leadsman.assessment.rehearse_prepare import Ready
from leadsman.conning import plan
from leadsman.conning.anchor_work import HELD_ON, HOVE_UP, LET_GO
from leadsman.conning.bridge import ANCHOR_ORDER, KIND, MEANING, TIME, VALUE
from leadsman.conning.harbour import EAST, GO, HEADING, HEAVE, NORTH, SNUB
from leadsman.conning.harbour import KIND as PHASE
from leadsman.conning.outcome import CLEAR
from leadsman.conning.plan import Pose
from leadsman.conning.run import Runs
from leadsman.geometry import Array
from leadsman.physics import anchor as rules
from leadsman.simulation.deck import HEAVING

DEPTH = 10.0  # m
SHORT = 15.0  # m of cable in the water: one and a half depths
FOLLOWING = 1.0  # m/s, two knots from astern


@pytest.fixture(scope="module")
def coaster() -> Ready:
    return made("1-river-coaster")


def cable(coaster: Ready) -> float:
    return SHORT + coaster.parameters.anchors[0].hawse


@pytest.fixture(scope="module")
def on_anchor(coaster: Ready) -> Runs:
    return swing(coaster, FOLLOWING, cable(coaster), DEPTH)


def turning(runs: Runs) -> Array:
    track = runs.track(0)
    return track[track[:, COLUMN["phase"]] == 0]


def test_a_dredged_anchor_pulls_with_what_statics_say(coaster: Ready, on_anchor: Runs) -> None:
    bower = coaster.parameters.anchors[0]
    expected = rules.dragging_force(bower.mass, DEPTH + bower.hawse, bower.weight, bower.drag_ratio)
    assert float(on_anchor.outcomes["anchor_dragged"][0]) > 10.0
    assert float(on_anchor.outcomes["cable_pull"][0]) == pytest.approx(expected, rel=0.01), (
        "physics.anchor [TradeForces]"
    )


def test_in_a_following_stream_the_anchor_spares_room_and_time(coaster: Ready, on_anchor: Runs) -> None:
    free = swing(coaster, FOLLOWING, None, DEPTH)
    along, across = space(coaster, turning(on_anchor))
    free_along, free_across = space(coaster, turning(free))
    assert along < 0.9 * free_along
    assert across < 0.9 * free_across
    assert len(turning(on_anchor)) < len(turning(free))
    assert int(on_anchor.outcomes["reason"][0]) == CLEAR


def test_in_slack_water_the_anchor_spares_nothing(coaster: Ready) -> None:
    """She turns about her bow, and about her middle without it: with a bow thruster that takes less."""
    along, across = space(coaster, turning(swing(coaster, 0.0, cable(coaster), DEPTH)))
    free_along, free_across = space(coaster, turning(swing(coaster, 0.0, None, DEPTH)))
    assert along > free_along
    assert across > 0.95 * free_across


def test_she_is_round_and_the_anchor_home_at_the_rate_of_the_windlass(coaster: Ready, on_anchor: Runs) -> None:
    track, log = on_anchor.track(0), on_anchor.log(0)
    told = log[log[:, KIND] == ANCHOR_ORDER]
    assert told[:, MEANING].tolist() == [LET_GO, HELD_ON, HOVE_UP]
    assert told[0, VALUE] == pytest.approx(SHORT)
    let_go, home = (float(on_anchor.outcomes[name][0]) for name in ("let_go_time", "home_time"))
    assert home - told[2, TIME] == pytest.approx(SHORT / HEAVING, abs=5.0), "IACS: 9 m a minute, from memory"
    assert let_go == told[0, TIME]
    assert math.cos(float(track[-1, COLUMN["heading"]]) - math.pi) > math.cos(0.3)
    assert float(on_anchor.outcomes["let_go_speed"][0]) < 1.03, "2 kn, dredging: manoeuvring sheet 9 [memory]"


@pytest.mark.parametrize(("side", "east"), [(-1.0, -30.0), (1.0, 30.0)])
def test_athwart_her_middle_is_near_the_place_meant(side: float, east: float) -> None:
    rows = plan.swung(Pose(north=100.0, east=0.0, heading=0.0), 0.0, math.pi, 95.0, side, 40.0)
    assert rows[0][[PHASE, NORTH, EAST]].tolist() == pytest.approx([GO, 60.0, east]), "by hand: a hawse length short"
    assert rows[1][[PHASE, NORTH, EAST]].tolist() == pytest.approx([SNUB, 140.0, east])
    assert rows[2][[PHASE, NORTH, EAST, HEADING]].tolist() == pytest.approx([HEAVE, 100.0, 0.0, math.pi]), "back to it"
