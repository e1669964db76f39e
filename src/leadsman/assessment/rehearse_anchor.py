"""A rehearsal with an anchor: the way an anchorage is come to, and what of a run is told of the anchor, also of one she
was swung on."""

import math
from dataclasses import replace

import numpy as np

from leadsman import format as text
from leadsman.assessment.anchorage import Anchorage
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.rehearse_result import BroughtUp, Run, SwungOnAnchor
from leadsman.assessment.rehearse_slow import LEEWAY, begin_slowly
from leadsman.assessment.swing import LET_GO_SPEED, SwingOnAnchor
from leadsman.conning import plan
from leadsman.conning.harbour import ANCHOR, EAST, GO, NORTH, SWING
from leadsman.conning.known import Known
from leadsman.conning.outcome import ALONGSIDE, CLEAR
from leadsman.conning.plan import Pose
from leadsman.conning.run import Case
from leadsman.conning.transit import angle
from leadsman.conning.waters import COURSE, SPEED
from leadsman.conning.waters import EAST as TRACK_EAST
from leadsman.conning.waters import NORTH as TRACK_NORTH
from leadsman.figure import Finding, Grade
from leadsman.geometry import Array
from leadsman.physics.anchor import CLASS_SHACKLE
from leadsman.simulation.parameters import Parameters, Records

OFF_WAY = 0.25  # m/s over the ground, half a knot: with no more she lets go. Ours
FALLS_BACK = 0.4  # m/s over the ground, while the cable is given. Ours
LAID_OUT = 0.95  # of the way the cable reaches on the bed she is brought back to. Ours
TURNS_IN = 400.0  # s of being blown to leeward that are allowed for where she is turned. Ours
ABREAST = 0.7  # lengths from where she is to be turned, and
UNDER_WAY = 1.2  # m/s over the ground, with which she begins to turn, so that she rounds up with way on. Ours
NO_QUAY = -100.0  # m: length of a quay that is nowhere


def to_anchor(case: Case, prepared: Prepared, conn: Known, parameters: Parameters, place: Anchorage) -> Case:
    """The same case ended at an anchorage: against wind and stream to the place, all way off, let go, brought up."""
    track = case.waters.track
    abreast = min(int(place.distance / case.waters.track_step), track.shape[0] - 1)
    wind = case.waters.wind_speed * LEEWAY
    blown = (-wind * math.cos(case.waters.wind_from), -wind * math.sin(case.waters.wind_from))
    length, speed = prepared.call.ship.length_overall, float(track[abreast, SPEED])
    phases = approach(place, float(track[abreast, COURSE]), length, blown)
    meeting = begin_slowly(prepared, conn, phases[0], speed)
    # From where she leaves the track she steers for the place, however far off the track it lies.
    leaves = track[min(int(meeting / case.waters.track_step), track.shape[0] - 1)]
    straight = math.atan2(float(phases[0, EAST] - leaves[TRACK_EAST]), float(phases[0, NORTH] - leaves[TRACK_NORTH]))
    phases = approach(place, straight, length, blown)
    return replace(
        case,
        phases=phases,
        thought=plan.thought(parameters, conn, 0.0),
        quay=case.quay._replace(length=NO_QUAY),
        voyage=case.voyage._replace(handover=meeting, anchor=float(place.unit), cable=place.cable),
    )


def approach(place: Anchorage, way_in: float, length: float, blown: tuple[float, float]) -> Array:
    """Phases: to the place, turned where she would come to it before wind and stream; then back on her cable.

    She is turned as far to windward as she is `blown` meanwhile, north and east [m/s], with some way on, and how she is
    set across while she turns is left as it comes: held against a strong wind she would not come round.
    """

    def lying(behind: float) -> Pose:
        """Heading as she will lie, her hawse so far behind where the anchor goes."""
        back = behind + place.anchor.position
        return Pose(
            north=place.north - back * math.cos(place.heading),
            east=place.east - back * math.sin(place.heading),
            heading=place.heading,
        )

    here = lying(0.0)
    rows = []
    if abs(float(angle(place.heading - way_in))) > plan.TURNED:
        north, east = (here.north - TURNS_IN * blown[0], here.east - TURNS_IN * blown[1])
        come = Pose(north=north, east=east, heading=way_in)
        turn = replace(come, heading=place.heading)
        rows.append(plan.phase(GO, come, length, near=ABREAST * length, square=math.radians(25.0), still=UNDER_WAY))
        rows.append(plan.phase(SWING, turn, length, ahead=0.4, across=0.0, near=2.0 * length, square=0.2, still=1.0))
    rows.append(plan.phase(GO, here, length, near=0.15 * length, square=math.radians(15.0), still=OFF_WAY))
    height = place.water_depth + place.anchor.hawse
    laid = LAID_OUT * math.sqrt(max(place.cable**2 - height**2, 0.0))
    rows.append(plan.phase(ANCHOR, lying(laid), length, ahead=FALLS_BACK, near=-1.0))
    return np.array(rows)


def brought_up(place: Anchorage, outcome: Records) -> BroughtUp | None:
    """What became of the anchor in a run; None where it was not let go."""
    if float(outcome["cable_out"]) <= 0.0:
        return None
    north, east = float(outcome["anchor_north"]), float(outcome["anchor_east"])
    return BroughtUp(
        off=math.hypot(north - place.north, east - place.east),
        speed=float(outcome["let_go_speed"]),
        cable=float(outcome["cable_out"]),
        dragged=float(outcome["anchor_dragged"]),
        pull=float(outcome["cable_pull"]),
        radius=place.radius,
        circle=place.circle,
        clearance=place.clearance,
    )


def swung_on(swing: SwingOnAnchor, outcome: Records) -> SwungOnAnchor | None:
    """What became in a run of the anchor she was to swing on; None where it was not let go."""
    if float(outcome["cable_out"]) <= 0.0:
        return None
    home, up = float(outcome["home_time"]), int(outcome["reason"]) in (ALONGSIDE, CLEAR)
    return SwungOnAnchor(
        side=swing.side,
        speed=float(outcome["let_go_speed"]),
        dragged=float(outcome["anchor_dragged"]),
        pull=float(outcome["cable_pull"]),
        home=home - float(outcome["let_go_time"]) if up else None,
    )


def swing_told(run: Run) -> tuple[Finding, ...]:
    """What a run shows of the anchor she was swung on: a caution where she had too much way on to let it go."""
    found = run.swung
    if found is None:
        return ()
    fast = found.speed > LET_GO_SPEED
    home = "" if found.home is None else f", clear of the water after {text.number(found.home / 60.0, 0)} min"
    most = f", more than {text.knots(LET_GO_SPEED)}: slower to the basin" if fast else ""
    return (
        Finding(
            grade=Grade.CAUTION if fast else Grade.NOTE,
            subject="swing",
            sentence=f"The {found.side} anchor was let go at {text.knots(found.speed)} over the ground{most}; it "
            f"pulled with up to {text.pull(found.pull)} and was dredged {text.metres(found.dragged, 0)}{home}.",
            value=found.speed,
            limit=LET_GO_SPEED,
            unit="m/s",
            source="common practice, no source",
        ),
    )


def came_home(run: Run) -> tuple[Finding, ...]:
    """A caution where the anchor was dragged by more than a shackle before it held."""
    found = run.brought_up
    if found is None or found.dragged <= CLASS_SHACKLE:
        return ()
    return (
        Finding(
            grade=Grade.CAUTION,
            subject="anchoring",
            sentence=f"The anchor came home {text.metres(found.dragged, 0)} in the rehearsed run: fall back more "
            "slowly, or give more cable before she lies to it.",
            value=found.dragged,
            limit=CLASS_SHACKLE,
            unit="m",
            source="common practice, no source",
        ),
    )
