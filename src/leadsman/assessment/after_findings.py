"""What a person must know of a passage sailed: what was broken, and how far the log can be trusted."""

from collections.abc import Iterator

import numpy as np

from leadsman import format as text
from leadsman.assessment.after_result import After
from leadsman.assessment.sailed_path import SailedPath
from leadsman.figure import Finding, Grade
from leadsman.portcall import PortCall
from leadsman.sailed import SailedTrack
from leadsman.units import MINUTE, NAUTICAL_MILE

LONG_GAP = 60.0  # s between positions: she may have been anywhere for longer than a bend takes to begin. Ours
DIFFERENT = 0.05  # of length or beam: more, and the log may be of another ship. Ours
WHOLE = 0.98  # share of the track that must be in the log before nothing is said


def after_findings(
    call: PortCall, log: SailedTrack, path: SailedPath, found: After, track_length: float
) -> tuple[Finding, ...]:
    """The heaviest first."""
    every = [*_limits(found), *_of_the_stream(call), *_of_the_log(path, found, track_length), *_of_the_ship(call, log)]
    weight = [Grade.STOP, Grade.CAUTION, Grade.NOTE]
    return tuple(sorted(every, key=lambda finding: weight.index(finding.grade)))


def _limits(found: After) -> Iterator[Finding]:
    for leg in found.legs:
        if leg.least_net is not None and leg.least_net < found.required:
            yield Finding(
                grade=Grade.STOP,
                subject="underkeel",
                sentence=f"{leg.reach}: {text.clearance(leg.least_net)} under the keel as sailed, by the plan's own "
                f"account; {text.requirement(found.required)} is required.",
                value=leg.least_net,
                limit=found.required,
                unit="m",
                place=leg.reach,
            )
        for side, room in (("port", leg.room_port), ("starboard", leg.room_starboard)):
            if room < 0.0:
                yield Finding(
                    grade=Grade.CAUTION,
                    subject="width",
                    sentence=f"{leg.reach}: to {side} she came {text.metres(-room, 0)} beyond the fairway's edge.",
                    value=room,
                    limit=0.0,
                    unit="m",
                    place=leg.reach,
                )
    for gate in found.gates:
        if gate.clearance < gate.required:
            yield Finding(
                grade=Grade.STOP,
                subject="overhead",
                sentence=f"{gate.name}: {text.clearance(gate.clearance)} overhead as sailed; "
                f"{text.requirement(gate.required)} is required.",
                value=gate.clearance,
                limit=gate.required,
                unit="m",
                place=gate.name,
            )
    unknown = np.isnan(found.net)
    if np.any(unknown):
        first = float(found.distance[int(np.argmax(unknown))])
        yield Finding(
            grade=Grade.CAUTION,
            subject="depth",
            sentence=f"At {int(np.sum(unknown))} of {len(unknown)} places, the first {text.miles(first)} along, she "
            "was over water without a known depth: nothing is said of her keel there.",
            value=float(np.sum(unknown)),
        )


def _of_the_stream(call: PortCall) -> Iterator[Finding]:
    if not call.waterway.stream_stations:
        yield Finding(
            grade=Grade.CAUTION,
            subject="stream",
            sentence="No stream is given for this waterway: speeds through the water are those over the ground, and "
            "nothing is taught of what her orders make.",
        )


def _of_the_log(path: SailedPath, found: After, track_length: float) -> Iterator[Finding]:
    covered = float(found.distance[-1] - found.distance[0])
    if covered < WHOLE * track_length:
        yield Finding(
            grade=Grade.CAUTION,
            subject="log",
            sentence=f"The log covers {covered / NAUTICAL_MILE:.2f} of the track's {text.miles(track_length)}.",
            value=covered,
            limit=track_length,
            unit="m",
        )
    if path.longest_gap > LONG_GAP:
        yield Finding(
            grade=Grade.CAUTION,
            subject="log",
            sentence=f"For {path.longest_gap / MINUTE:.1f} min the log has no position; there she is drawn straight.",
            value=path.longest_gap,
            limit=LONG_GAP,
            unit="s",
        )
    if not path.headings_known:
        yield Finding(
            grade=Grade.CAUTION,
            subject="log",
            sentence="The log has no headings: her course over the ground stands for them, so what she laid off "
            "against stream and wind is not seen, and the room to the sides is greater here than it was.",
        )
    elif not path.antenna_known:
        yield Finding(
            grade=Grade.NOTE,
            subject="log",
            sentence="Where the antenna stands is not known; positions are taken for midships.",
        )
    if not found.measured:
        yield Finding(
            grade=Grade.NOTE,
            subject="water_level",
            sentence="The water level is the forecast's; give what the gauge showed for the level as it was.",
        )


def _of_the_ship(call: PortCall, log: SailedTrack) -> Iterator[Finding]:
    for name, ours in (("length_overall", call.ship.length_overall), ("beam", call.ship.beam)):
        theirs = log.particulars.get(name)
        if isinstance(theirs, int | float) and abs(theirs - ours) > DIFFERENT * ours + 1.0:  # given in whole metres
            yield Finding(
                grade=Grade.CAUTION,
                subject="log",
                sentence=f"The log's vessel says her {name.replace('_', ' ')} is {text.metres(float(theirs), 0)}, the "
                f"card of {call.ship.name} {text.metres(ours, 0)}: is it the same ship?",
                value=float(theirs),
                limit=ours,
                unit="m",
            )
