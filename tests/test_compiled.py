"""One formula, three uses: number, array, kernel. And the cache that notices a change in another file."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from leadsman import compiled
from leadsman.compiled import formula, kernel, where

SRC = Path(compiled.__file__).parents[1]


@formula
def ramp(x: compiled.Real, slope: compiled.Real = 2.0) -> compiled.Real:
    """Zero below one, then a straight line."""
    return where(x > 1.0, slope * (x - 1.0), 0.0)


@kernel
def ramps(values: np.ndarray) -> float:
    total = 0.0
    for value in values:
        total += ramp(x=value, slope=3.0)
    return total


@kernel
def twice(values: np.ndarray) -> float:
    return 2.0 * ramps(values)


def test_a_formula_takes_numbers_arrays_and_is_compiled() -> None:
    assert ramp(0.5) == 0.0
    assert ramp(3.0) == 4.0
    assert isinstance(ramp(3.0), float)
    np.testing.assert_array_equal(ramp(np.array([0.0, 2.0])), [0.0, 2.0])
    assert ramps(np.array([0.0, 2.0, 3.0])) == 9.0
    assert ramp.__doc__ == "Zero below one, then a straight line."


def test_a_kernel_calls_a_kernel() -> None:
    assert twice(np.array([2.0])) == 6.0


def test_importing_formulas_does_not_load_the_compiler() -> None:
    code = "import sys, leadsman.compiled, leadsman.physics.method; print('numba' in sys.modules)"
    environment = os.environ | {"PYTHONPATH": str(SRC)}
    done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "False", done.stderr


def test_the_cache_notices_a_change_in_a_called_file(tmp_path: Path) -> None:
    """The danger found in practice: a doubled formula in another file, and a kernel that keeps the old value."""
    package = tmp_path / "leadsman"
    package.mkdir()
    (package / "__init__.py").write_text('""""""\n')
    (package / "compiled.py").write_text((SRC / "leadsman/compiled.py").read_text())
    (package / "engine.py").write_text(
        "from leadsman.compiled import kernel\nfrom leadsman import law\n\n\n"
        "@kernel\ndef run(x):\n    return law.factor(x)\n"
    )
    environment = os.environ | {"PYTHONPATH": str(tmp_path), "LEADSMAN_CACHE": str(tmp_path / "cache")}
    answers = []
    for factor in (1.0, 2.0):
        (package / "law.py").write_text(
            f"from leadsman.compiled import formula\n\n\n@formula\ndef factor(x):\n    return {factor} * x\n"
        )
        for _ in range(2):  # the second run of each pair reads the cache
            done = subprocess.run(
                [sys.executable, "-B", "-c", "from leadsman.engine import run; print(run(10.0))"],
                env=environment,
                capture_output=True,
                text=True,
                check=False,
            )
            assert done.returncode == 0, done.stderr
            answers.append(float(done.stdout))
    assert answers == [10.0, 10.0, 20.0, 20.0]
    assert len(list((tmp_path / "cache/kernels").iterdir())) == 2


def test_the_cache_can_be_moved(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LEADSMAN_CACHE", str(tmp_path))
    assert compiled.cache_folder().parent == tmp_path / "kernels"


@pytest.mark.parametrize(
    ("changed", "forgets"),
    [("physics", True), ("simulation", True), (".", True), ("assessment", False), ("documents", False)],
)
def test_a_kernel_forgets_its_cache_only_for_sources_it_may_call(changed: str, forgets: bool, tmp_path: Path) -> None:
    """Of a kernel in `simulation`: a change above it leaves the compiled kernel as it is."""
    package = tmp_path / "leadsman"
    for part in ("physics", "simulation", "assessment", "documents"):
        (package / part).mkdir(parents=True)
    (package / "__init__.py").write_text('""""""\n')
    (package / "compiled.py").write_text((SRC / "leadsman/compiled.py").read_text())
    code = "from leadsman.compiled import cache_folder; print(cache_folder('leadsman.simulation.kernel').name)"
    names = []
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-B", "-c", code],
            env=os.environ | {"PYTHONPATH": str(tmp_path)},
            capture_output=True,
            text=True,
            check=True,
        )
        names.append(done.stdout)
        (package / changed / "law.py").write_text("WAY = 1\n")
    assert (names[0] != names[1]) is forgets


def test_every_part_with_kernels_is_named() -> None:
    """A kernel in a part that `PARTS` does not list would be kept by the hash of all sources: safe, but slow."""
    holders = {
        file.relative_to(SRC / "leadsman").parts[0]
        for file in (SRC / "leadsman").rglob("*.py")
        if "\n@kernel" in file.read_text() and file.name != "compiled.py"
    }
    assert holders <= set(compiled.PARTS)
