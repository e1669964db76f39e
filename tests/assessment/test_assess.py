"""The answer as a whole: what is told agrees with what was computed, remedies work, seeded faults change the verdict."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from leadsman.assessment.assess import assess, fingerprint
from leadsman.assessment.prepare import Prepared
from leadsman.assessment.result import Assessment
from leadsman.figure import Grade, Origin
from leadsman.physics import squat
from leadsman.portcall import Direction, PortCall, ReachPlan
from leadsman.units import KNOT


@pytest.fixture(scope="module")
def answer(first_call: PortCall, first_prepared: Prepared) -> Assessment:
    return assess(first_call, first_prepared)


@pytest.fixture(scope="module")
def too_early(first_call: PortCall, first_prepared: Prepared) -> Assessment:
    return assess(first_call.starting(first_call.start - timedelta(minutes=50)), first_prepared)


def test_the_account_adds_up(answer: Assessment) -> None:
    lines = {line.key: line for line in answer.account.lines}
    running = np.zeros_like(answer.account.distance)
    for line in answer.account.lines:
        if line.effect == 0:
            np.testing.assert_allclose(running, line.values, atol=1e-9, err_msg=line.key)
        running = running + line.effect * line.values
    np.testing.assert_array_equal(lines["margin"].values, answer.account.margin)


def test_every_line_says_where_it_comes_from(answer: Assessment) -> None:
    for line in answer.account.lines:
        assert line.origin in {origin.value for origin in Origin}
        assert line.source, line.key
        assert line.method, line.key


def test_the_greatest_squat_governs(first_prepared: Prepared, answer: Assessment) -> None:
    found = first_prepared.underkeel.least(answer.account.water_level).squats
    comparable = np.where(found.comparable, found.every, -np.inf)
    np.testing.assert_array_equal(np.max(comparable, axis=0), answer.account.squat)
    assert set(answer.account.squat_method) <= set(squat.NAMES)


def test_a_chosen_method_is_the_one_used(first_call: PortCall) -> None:
    chosen = assess(replace(first_call, squat_methods=("barrass_short",)))
    assert set(chosen.account.squat_method) == {"barrass_short"}
    # Barrass's short formula: Cb V²/100 with V in knots (water.md 2.2 row 2, memory), by hand at the sill, where the
    # channel is wider than her width of influence, 7.04 / Cb^0.85 beams = 117 m (water.md 2.1, memory)
    block = 7_000_000.0 / (1025.0 * 90.0 * 14.4 * 6.275)
    sill = int(np.argmin(np.abs(chosen.account.distance - 10_700.0)))
    assert chosen.account.squat[sill] == pytest.approx(block * 4.2**2 / 100.0, rel=1e-9)


def test_passing_times_are_those_of_speed_and_stream(answer: Assessment) -> None:
    steps = np.diff(answer.account.distance) / answer.account.speed_over_ground[:-1]
    np.testing.assert_allclose(np.diff(answer.account.elapsed), steps, rtol=1e-9)
    still = np.abs(answer.account.stream_along) + np.abs(answer.account.stream_across)
    assert np.max(still) > 0.3  # the flood of example 1 is felt
    flood = answer.account.stream_along > 0.05
    assert np.all(answer.account.speed_over_ground[flood] > answer.account.speed[flood] * 0.99)


def test_legs_tell_the_account(answer: Assessment) -> None:
    assert [leg.reach for leg in answer.legs] == ["Roads", "Bar", "Lych Reach", "Mill Reach", "Tannery Reach"]
    assert sum(leg.distance for leg in answer.legs) == pytest.approx(answer.account.distance[-1])
    assert min(leg.least_net for leg in answer.legs) == pytest.approx(float(np.min(answer.account.net)))
    for leg, after in zip(answer.legs, answer.legs[1:], strict=False):
        assert leg.time_end == after.time_begin
        assert leg.ends_at == after.begins_at


def test_turns_follow_water_md_6(answer: Assessment) -> None:
    """Rate of turn = speed over ground / radius; wheel over = R tan(deflection / 2): water.md 6, derived."""
    bar = answer.legs[1]
    assert bar.alteration == pytest.approx(np.radians(42.0), abs=2e-3)
    assert bar.wheel_over_before == pytest.approx(650.0 * np.tan(np.radians(21.0)), rel=2e-3)
    assert 5.0 < np.degrees(bar.rate_of_turn) * 60.0 < 30.0


def test_what_binds_is_the_least_margin(answer: Assessment) -> None:
    least = min(float(np.min(answer.account.margin)), *(gate.value - gate.required for gate in answer.gates))
    assert answer.verdict.binding.margin == pytest.approx(least, abs=1e-6)


def test_a_start_too_early_names_the_limit_and_the_remedies_work(
    too_early: Assessment, first_call: PortCall, first_prepared: Prepared
) -> None:
    assert not too_early.verdict.go
    assert too_early.verdict.binding.limit == "underkeel"
    assert too_early.verdict.binding.place == "Osier Sill"
    assert too_early.stops
    remedies = {remedy.kind: remedy for remedy in too_early.remedies}
    assert set(remedies) >= {"later", "earlier", "slower", "less_draught"}
    for kind in ("later", "earlier"):
        assert remedies[kind].works
        assert assess(first_call.starting(remedies[kind].start), first_prepared).verdict.go
    assert remedies["later"].start > too_early.call.start > remedies["earlier"].start


def test_slower_is_found_where_slower_helps(first_call: PortCall, answer: Assessment) -> None:
    """On a bar just too shoal at the planned speed, less speed there mends it, and no less than needed."""
    bar = answer.legs[1]
    areas = tuple(
        replace(area, depth=area.depth - bar.least_margin - 0.10) if area.name == "Ambry Bar" else area
        for area in first_call.waterway.areas
    )
    call = replace(first_call, waterway=replace(first_call.waterway, areas=areas))
    shoal = assess(call)
    assert shoal.verdict.binding.place == "Ambry Bar"
    assert -0.5 < shoal.verdict.binding.margin < 0.0  # a shoaler bar adds squat to the 0.10 m taken away
    slower = next(remedy for remedy in shoal.remedies if remedy.kind == "slower")
    assert slower.works
    assert 2.0 * KNOT < slower.change < bar.speed

    def at(speed: float) -> bool:
        plans = tuple(ReachPlan(reach=p.reach, speed=speed) if p.reach == "Bar" else p for p in call.plans)
        return assess(replace(call, plans=plans)).verdict.go

    assert at(slower.change)
    assert not at(slower.change + 0.2 * KNOT)


def test_less_draught_is_found_where_it_helps(first_call: PortCall) -> None:
    """With the bridge out of the way, lightening alone mends a start that is too early, and by no more than needed."""
    gates = tuple(replace(gate, clearance=60.0) for gate in first_call.waterway.gates)
    call = replace(first_call, waterway=replace(first_call.waterway, gates=gates))
    call = call.starting(call.start - timedelta(minutes=50))
    answer = assess(call)
    less = next(remedy for remedy in answer.remedies if remedy.kind == "less_draught")
    assert less.works
    assert less.change < 0.0

    def floating(change: float) -> bool:
        loading = call.loading
        share = (loading.mean_draught + change) / loading.mean_draught
        lighter = replace(
            loading,
            draught_forward=loading.draught_forward + change,
            draught_aft=loading.draught_aft + change,
            displacement=loading.displacement * share,
            air_draught=None,
        )
        return assess(replace(call, loading=lighter)).verdict.go

    assert floating(less.change)
    assert not floating(less.change + 0.02)


def test_bridge_lowered_one_metre(first_call: PortCall, answer: Assessment) -> None:
    gates = tuple(replace(gate, clearance=gate.clearance - 1.0) for gate in first_call.waterway.gates)
    lowered = assess(replace(first_call, waterway=replace(first_call.waterway, gates=gates)))
    assert not lowered.verdict.go
    assert lowered.verdict.binding.limit == "overhead"
    assert lowered.verdict.binding.value == pytest.approx(answer.gates[0].value - 1.0, abs=1e-6)
    assert "more_draught" in {remedy.kind for remedy in lowered.remedies}


def test_sill_silted_half_a_metre(first_call: PortCall, answer: Assessment) -> None:
    areas = tuple(
        replace(area, siltation=area.siltation + 0.5) if area.name == "Osier Sill" else area
        for area in first_call.waterway.areas
    )
    silted = assess(replace(first_call, waterway=replace(first_call.waterway, areas=areas)))
    assert not silted.verdict.go
    assert silted.verdict.binding.place == "Osier Sill"
    assert len(silted.windows) < len(answer.windows)


def test_a_wrong_datum_changes_the_verdict(first_call: PortCall, answer: Assessment) -> None:
    """27.1 m read above MHWS instead of HAT is 1.1 m less: the bridge shuts."""
    gates = tuple(replace(gate, clearance_datum="MHWS") for gate in first_call.waterway.gates)
    wrong = assess(replace(first_call, waterway=replace(first_call.waterway, gates=gates)))
    assert not wrong.verdict.go
    assert wrong.gates[0].value == pytest.approx(answer.gates[0].value - 1.1, abs=1e-6)


def test_a_narrow_fairway_stops_her(first_call: PortCall) -> None:
    narrow = assess(replace(first_call, margins=replace(first_call.margins, width=60.0)))
    assert not narrow.verdict.go
    assert any(finding.subject == "width" and finding.grade is Grade.STOP for finding in narrow.findings)


def test_missing_figures_are_assumed_aloud_and_on_the_careful_side(first_call: PortCall, answer: Assessment) -> None:
    loading = replace(first_call.loading, displacement=None, water_density=None)
    ship = replace(first_call.ship, length_between_perpendiculars=None, bulbous_bow=None)
    forecast = replace(first_call.forecast, water_density=None)
    guessed = assess(replace(first_call, loading=loading, ship=ship, forecast=forecast))
    by_origin = {
        origin: {name for name, figure in guessed.figures.items() if figure.origin is origin}
        for origin in (Origin.ASSUMED, Origin.ESTIMATED)
    }
    assert by_origin[Origin.ASSUMED] == {"density_of_draughts", "density_of_passage", "draught_midships", "list_angle"}
    assert by_origin[Origin.ESTIMATED] >= {"length_between_perpendiculars", "block_coefficient"}
    told = " ".join(finding.sentence for finding in guessed.findings)
    for word in ("length between perpendiculars", "displacement", "Density of the water the draughts", "fresh water", "bulbous"):
        assert word in told
    assert np.all(guessed.account.net < answer.account.net)


def test_outward_is_the_same_water_the_other_way(first_call: PortCall) -> None:
    out = assess(replace(first_call, direction=Direction.OUTWARD))
    assert [leg.reach for leg in out.legs] == ["Tannery Reach", "Mill Reach", "Lych Reach", "Bar", "Roads"]
    assert out.alongside is None
    assert out.account.course[0] == pytest.approx((np.radians(15.0) + np.pi) % (2 * np.pi), abs=2e-3)
    inward = assess(first_call)
    np.testing.assert_allclose(np.sort(out.account.depth), np.sort(inward.account.depth))


def test_equal_inputs_equal_fingerprints(first_call: PortCall) -> None:
    assert fingerprint(first_call) == fingerprint(replace(first_call))
    assert fingerprint(first_call) != fingerprint(first_call.starting(first_call.start + timedelta(seconds=1)))


def test_a_card_that_contradicts_itself_stops_the_passage(first_call: PortCall) -> None:
    """Bridge to bow and bridge to stern must add to her length (standards.md 4.6, hard identity)."""
    slipped = assess(replace(first_call, ship=replace(first_call.ship, bridge_to_bow=85.0)))
    assert not slipped.verdict.go
    assert any(finding.grade is Grade.STOP and "bridge" in finding.sentence.lower() for finding in slipped.findings)


def test_water_denser_than_where_she_was_read_lifts_her_mast(first_call: PortCall) -> None:
    """Draughts read in fresh water, passage in sea water: T (1 - 1000/1025), by hand with T = 6.275 m: 0.153 m."""

    def clear(read: float | None, sailed: float | None) -> float:
        loading = replace(first_call.loading, water_density=read)
        return assess(replace(first_call, loading=loading, forecast=replace(first_call.forecast, water_density=sailed))).gates[0].value

    same = clear(1025.0, 1025.0)
    assert clear(1000.0, 1025.0) == pytest.approx(same - 6.275 * (1.0 - 1000.0 / 1025.0), abs=1e-9)
    assert clear(1025.0, 1000.0) == pytest.approx(same), "no credit for floating deeper"
    assert clear(None, None) == pytest.approx(clear(1000.0, 1025.0)), "what is not given is not assumed to lower her"


def test_a_stated_air_draught_rises_with_her_too(first_call: PortCall) -> None:
    ship = replace(first_call.ship, keel_to_highest_point=None)
    loading = replace(first_call.loading, water_density=1000.0)
    forecast = replace(first_call.forecast, water_density=1025.0)
    answer = assess(replace(first_call, ship=ship, loading=loading, forecast=forecast))
    assert answer.figures["air_draught"].value == pytest.approx(26.67 + 6.275 * (1.0 - 1000.0 / 1025.0))
    assert answer.figures["air_draught"].origin is Origin.COMPUTED
