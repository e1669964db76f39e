"""Every sample is recognised by its content; what is not read is refused by name."""

from pathlib import Path

import h5py
import pytest
from sample_files import Sample, write_samples

from leadsman.errors import InputErrors
from leadsman.files.formats.recognise import Format, recognise

EXPECTED = {
    "RTZ": Format.RTZ,
    "GPX": Format.GPX,
    "GeoJSON": Format.GEOJSON,
    "soundings CSV": Format.SOUNDINGS,
    "tide CSV": Format.HIGH_LOW,
    "gauge CSV": Format.LEVELS,
    "AIS log": Format.LOG,
    "S-57": Format.S57,
    "GeoPackage": Format.GEOPACKAGE,
    "S-104": Format.S104,
    "S-104 stations": Format.S104,
    "S-111": Format.S111,
    "S-102": Format.S102,
}


@pytest.fixture(scope="module")
def samples(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Sample]:
    return write_samples(tmp_path_factory.mktemp("samples"))


@pytest.mark.parametrize("name", EXPECTED)
def test_samples(samples: dict[str, Sample], tmp_path: Path, name: str) -> None:
    renamed = tmp_path / "without a name that helps"
    renamed.write_bytes(samples[name].path.read_bytes())
    assert recognise(renamed) is EXPECTED[name]


@pytest.mark.parametrize("content", [b"<kml/>", b"hello\nworld\n", b"PK\x03\x04", b"a,b,c\n1,2,3\n", b"\xff\xfe\x00"])
def test_nothing_that_is_read(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "x").write_bytes(content)
    with pytest.raises(InputErrors, match="x: is in no format that is read; expected one of: S-57 cell, S-102 depths"):
        recognise(tmp_path / "x")


def test_another_hdf5_file(tmp_path: Path) -> None:
    with h5py.File(tmp_path / "x.h5", "w") as file:
        file.attrs["productSpecification"] = "INT.IHO.S-129.1.0"
    with pytest.raises(InputErrors, match="is an HDF5 file, but not S-102, S-104 or S-111"):
        recognise(tmp_path / "x.h5")
