"""The tugs as ordered, each at the place where tugs are usually made fast."""

from collections.abc import Sequence

from leadsman.assessment.holding.case import HoldingCase, Place, Tug, tug_positions
from leadsman.figure import Finding, Grade
from leadsman.physics import tug
from leadsman.portcall import Tug as OrderedTug
from leadsman.simulation.deck import LINE_LEAD, LINE_LENGTH, LINE_SECTOR, PARALLEL_BODY, UNKNOWN_TUG


def tugs_at_work(
    ordered: Sequence[OrderedTug], places: Sequence[Place], length_overall: float, parallel_body: float | None
) -> tuple[tuple[Tug, ...], tuple[Finding, ...]]:
    """The tugs as ordered, each at a place, and what had to be assumed about them."""
    half = 0.5 * (PARALLEL_BODY * length_overall if parallel_body is None else parallel_body)
    positions = tug_positions(length_overall, (-half, half))
    tugs, findings = [], []
    for each, place in zip(ordered, places, strict=False):
        kind = each.kind
        if kind not in tug.types():
            why = f"not known ({kind})" if kind else "not given"
            kind = UNKNOWN_TUG
            findings.append(
                Finding(
                    grade=Grade.CAUTION,
                    subject="tugs",
                    sentence=f"The type of tug {each.name} is {why}; a conventional tug with an open screw is "
                    "assumed, the least of all.",
                )
            )
        tugs.append(tug_at(each.name, kind, each.bollard_pull, place, positions[place]))
    return tuple(tugs), tuple(findings)


def tug_at(name: str, kind: str, bollard_pull: float, place: Place, position: float) -> Tug:
    """A tug at a place, her line as lines usually are."""
    return Tug(
        name=name,
        kind=kind,
        bollard_pull=bollard_pull,
        place=place,
        position=position,
        line_length=LINE_LENGTH,
        line_lead=LINE_LEAD,
        sector=LINE_SECTOR,
    )


def usual_places(case: HoldingCase) -> tuple[Place, ...]:
    """Where tugs are usually made fast, in order: the end without a thruster first, then the other, then the off side.

    Source: common practice, no source.
    """
    forward = sum(each.thrust * each.available for each in case.thrusters if each.position > 0.0)
    aft = sum(each.thrust * each.available for each in case.thrusters if each.position < 0.0)
    ends = (Place.AFT, Place.FORWARD) if forward > aft else (Place.FORWARD, Place.AFT)
    off_side = "port" if case.quay is not None and case.quay.side > 0 else "starboard"
    return (*ends, Place(f"{off_side}_bow"), Place(f"{off_side}_quarter"))


def tug_sets(
    case: HoldingCase, ordered: Sequence[OrderedTug], parallel_body: float | None
) -> tuple[dict[str, tuple[Tug, ...]], tuple[Finding, ...]]:
    """None, one, two ... of the tugs as ordered, at the usual places: the sets a rose is drawn for."""
    tugs, findings = tugs_at_work(ordered, usual_places(case), case.length_overall, parallel_body)
    names = {0: "no tug", 1: "1 tug"}
    return {names.get(count, f"{count} tugs"): tugs[:count] for count in range(len(tugs) + 1)}, findings
