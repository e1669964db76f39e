"""Room under bridges: row 56 and section 5 of the sheet on water, derived."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.physics import overhead

metres = st.floats(0.0, 80.0)


def test_the_example() -> None:
    air_draught = overhead.air_draught(52.0, 11.2)
    assert air_draught == pytest.approx(40.8, abs=0.001)
    assert overhead.available(40.0, 4.9, 3.1) == pytest.approx(41.8, abs=0.001)
    assert overhead.clearance(40.0, 4.9, 3.1, air_draught) == pytest.approx(1.0, abs=0.001)
    assert overhead.greatest_water_level(40.0, 4.9, air_draught, 2.0) == pytest.approx(2.1, abs=0.001)
    # Section 5, from memory of PIANC 121: inner channel 5 % of the air draught, outer 0.4 draught more.
    assert overhead.pianc_clearance(air_draught, 11.2, False) == pytest.approx(2.04, abs=0.001)
    assert overhead.pianc_clearance(air_draught, 11.2, True) == pytest.approx(2.04 + 0.4 * 11.2, abs=0.001)


@given(charted=metres, datum=st.floats(-2.0, 12.0), air_draught=metres, required=st.floats(0.0, 5.0))
def test_at_the_greatest_level_the_clearance_is_the_required_one(
    charted: float, datum: float, air_draught: float, required: float
) -> None:
    level = overhead.greatest_water_level(charted, datum, air_draught, required)
    assert overhead.clearance(charted, datum, level, air_draught) == pytest.approx(required, abs=1e-9)
