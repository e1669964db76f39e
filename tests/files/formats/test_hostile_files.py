"""Spoilt files of every format end in a reading or in a sentence, never in anything else; seeded, so that it repeats.

The longer run, with its figures, is studies/fuzz_formats.py.
"""

from pathlib import Path
from random import Random

import hypothesis.strategies as st
import pytest
from hypothesis import HealthCheck, given, settings
from mutations import mutated
from sample_files import Sample, write_samples

from leadsman.errors import LeadsmanError

FORMATS = ("RTZ", "GPX", "GeoJSON", "soundings CSV", "tide CSV", "gauge CSV", "AIS log", "S-57", "GeoPackage", "S-104",
           "S-104 stations", "S-111", "S-102")  # fmt: skip


@pytest.fixture(scope="module")
def samples(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Sample]:
    return write_samples(tmp_path_factory.mktemp("samples"))


def outcome(sample: Sample, content: bytes, folder: Path) -> str:
    """`read`, or the sentence; anything else raises."""
    path = folder / sample.path.name
    path.write_bytes(content)
    try:
        sample.read(path)
    except LeadsmanError as error:
        return str(error) or "no sentence"
    return "read"


def test_every_format_has_a_sample(samples: dict[str, Sample]) -> None:
    assert set(FORMATS) == set(samples)


@pytest.mark.parametrize("name", FORMATS)
def test_sound_files_are_read(samples: dict[str, Sample], tmp_path: Path, name: str) -> None:
    assert outcome(samples[name], samples[name].path.read_bytes(), tmp_path) == "read"


@pytest.mark.parametrize("name", FORMATS)
def test_spoilt_files(samples: dict[str, Sample], tmp_path: Path, name: str) -> None:
    random, sample = Random(name), samples[name]
    sound = sample.path.read_bytes()
    outcomes = [outcome(sample, mutated(sound, random), tmp_path) for _ in range(5 if sample.isolated else 150)]
    assert any(told != "read" for told in outcomes)
    assert "no sentence" not in outcomes


@pytest.mark.parametrize("name", [name for name in FORMATS if name not in ("S-104 stations", "S-111", "S-102")])
def test_cut_files(samples: dict[str, Sample], tmp_path: Path, name: str) -> None:
    sample = samples[name]
    sound = sample.path.read_bytes()
    for share in (0.2, 0.9) if sample.isolated else (0.01, 0.2, 0.5, 0.9, 0.99):
        outcome(sample, sound[: int(len(sound) * share)], tmp_path)


@pytest.mark.parametrize("name", ["RTZ", "GPX", "GeoJSON", "tide CSV", "soundings CSV", "AIS log"])
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_arbitrary_content(samples: dict[str, Sample], tmp_path: Path, name: str, content: bytes) -> None:
    outcome(samples[name], content, tmp_path)
