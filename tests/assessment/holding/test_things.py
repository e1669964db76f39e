"""What berths, margins and tugs refuse of the figures that holding needs, in words."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from leadsman.errors import Impossible, InputErrors
from leadsman.files.call_files import read_call
from leadsman.portcall import PortCall
from leadsman.units import TONNE_FORCE

BERTH = [  # field, value, what is told
    ("face", "stone", "'stone' is no face of a quay; expected closed (a wall) or open (on piles)"),
    ("approach_angle", math.radians(60.0), "60 deg is no angle to land at; expected degrees, 0 to 45"),
    ("fender_energy", -1.0, "-1.0 is impossible; expected a number above zero"),
    ("fender_reaction", 0.0, "0.0 is impossible; expected a number above zero"),
    ("bollard_load", math.inf, "inf is impossible; expected a number above zero"),
    ("maximum_landing_speed", -0.1, "-0.1 is impossible; expected a number above zero"),
]


@pytest.mark.parametrize(("field", "value", "words"), BERTH)
def test_berths_refuse(first_call: PortCall, field: str, value: object, words: str) -> None:
    with pytest.raises(Impossible) as told:
        replace(first_call.waterway.berths[0], **{field: value})
    assert told.value.problems == ((field, words),) or list(told.value.problems) == [(field, words)]


@pytest.mark.parametrize("field", ["rudder_in_hand", "thruster_in_hand", "tug_in_hand"])
def test_margins_refuse_to_keep_all_in_hand(first_call: PortCall, field: str) -> None:
    with pytest.raises(Impossible, match="is no share to keep in hand"):
        replace(first_call.margins, **{field: 1.0})


def test_a_tug_fast_from_nowhere_is_refused() -> None:
    call = read_call(Path(__file__).parents[3] / "examples/3-container-basin")
    with pytest.raises(Impossible, match="'Alder' is to be fast from 'Nowhere', which is no reach of waterway"):
        replace(call, tugs=(replace(call.tugs[0], fast_from="Nowhere"), *call.tugs[1:]))


def test_the_files_carry_them(folder: Path) -> None:
    waterway, call = folder / "waterway/waterway.toml", folder / "call.toml"
    text = waterway.read_text()
    keys = "approach_angle_deg = 8\nfender_energy_kNm = 90\nfender_reaction_kN = 200\nbollard_load_t = 20\n"
    waterway.write_text(text.replace('face = "closed"\n', f'face = "open"\n{keys}'))
    call.write_text(call.read_text().replace("[margins]\n", "[margins]\ntug_in_hand_percent = 30\n"))
    read = read_call(folder)
    berth = read.waterway.berths[0]
    assert (berth.face, berth.fender_energy, berth.fender_reaction) == ("open", 90e3, 200e3)
    assert berth.approach_angle == pytest.approx(math.radians(8.0))
    assert berth.bollard_load == pytest.approx(20.0 * TONNE_FORCE)
    assert read.margins.tug_in_hand == pytest.approx(0.30)
    waterway.write_text(waterway.read_text().replace("fender_energy_kNm = 90", "fender_energy_kNm = -90"))
    with pytest.raises(InputErrors, match="fender_energy_kNm"):
        read_call(folder)
