"""Datums: explicit offsets only, contradictions and mistaken columns refused."""

import tomllib
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.environment.datum import Datums, Offset, datums
from leadsman.errors import CannotCompute, Impossible

STATION = tomllib.loads(
    (Path(__file__).parents[2] / "authorities" / "noaa_boston" / "station.toml").read_text(encoding="utf-8")
)
MLLW = Offset("MLLW", "CD", 0.0)  # American charts: chart datum is MLLW
BOSTON = Datums((MLLW, *(Offset(name, "MLLW", height) for name, height in STATION["datums_m"].items())))


def test_a_bridge_above_high_water_told_above_other_datums() -> None:
    """41.1 m above MHW is 44.10 m above MLLW, 42.42 m above NAVD88: NOAA's datums, seen; sums by hand."""
    assert BOSTON.height(41.1, "MHW", "MLLW") == pytest.approx(41.1 + 2.997)
    assert BOSTON.height(41.1, "MHW", "CD") == pytest.approx(41.1 + 2.997)
    assert BOSTON.height(41.1, "MHW", "NAVD88") == pytest.approx(41.1 + 2.997 - 1.678)
    assert BOSTON.height(2.0, "MSL", "MSL") == 2.0


names = st.sampled_from(sorted(BOSTON.names))


@given(one=names, other=names, third=names, height=st.floats(-50.0, 200.0))
def test_every_way_round_is_the_same(one: str, other: str, third: str, height: float) -> None:
    there = BOSTON.height(height, one, other)
    assert BOSTON.height(there, other, one) == pytest.approx(height, abs=1e-9)
    assert BOSTON.height(there, other, third) == pytest.approx(BOSTON.height(height, one, third), abs=1e-9)


def test_unknown_and_unconnected_datums_are_refused() -> None:
    with pytest.raises(CannotCompute, match="datum 'HHW' is not known here; known are CD, MLLW, MHHW"):
        BOSTON.height(1.0, "HHW", "CD")
    loose = Datums((Offset("MSL", "LAT", 2.1),))
    assert loose.height(0.0, "MSL", "LAT") == 2.1
    assert not loose.connected("MSL", "CD")
    with pytest.raises(CannotCompute, match="no offset connects datum 'MSL' with 'CD' here"):
        loose.height(1.0, "MSL", "CD")


PROBLEMS = [
    ((Offset("HAT", "CD", float("nan")),), "HAT: its height above CD is missing or no number"),
    (
        (Offset("MSL", "CD", 2.0), Offset("HAT", "MSL", 2.5), Offset("HAT", "CD", 5.0)),
        "HAT: stands 2.500 m above MSL by one offset and 3.000 m by others; expected one height",
    ),
    ((Offset("MHWS", "CD", 4.2), Offset("HAT", "CD", 3.9)), "MHWS: stands above HAT here"),
    ((Offset("MLWS", "CD", 0.4), Offset("LAT", "CD", 0.6), Offset("MSL", "CD", 2.0)), "LAT: stands above MLWS here"),
]


@pytest.mark.parametrize(("offsets", "sentence"), PROBLEMS)
def test_tables_that_cannot_be_are_refused(offsets: tuple[Offset, ...], sentence: str) -> None:
    with pytest.raises(Impossible) as caught:
        Datums(offsets)
    assert sentence in str(caught.value)


def test_the_datums_of_a_waterway() -> None:
    waterway = cast(Any, SimpleNamespace(datums={"MSL": 4.6, "HAT": 9.0}))
    assert datums(waterway).height(10.0, "HAT", "MSL") == pytest.approx(14.4)
