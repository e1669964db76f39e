"""The kernel against the same equations written by hand in C (benchmarks/kernel/sail.c): two programs, one answer."""

import importlib.util
import shutil
import sys
from pathlib import Path

import pytest

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "bench_kernel.py"


@pytest.mark.skipif(shutil.which("cc") is None, reason="needs a C compiler")
def test_the_kernel_agrees_with_c(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five drawn ships, ten minutes of weaving in shallow water with an engine order: to a micrometre."""
    spec = importlib.util.spec_from_file_location("bench_kernel", BENCHMARK)
    assert spec is not None
    assert spec.loader is not None
    bench = importlib.util.module_from_spec(spec)
    # A kernel kept on disk names the module it is of: it must be found by that name when it is loaded again.
    monkeypatch.setitem(sys.modules, "bench_kernel", bench)
    spec.loader.exec_module(bench)
    monkeypatch.setattr(bench, "RUNS", 5)
    monkeypatch.setattr(bench, "STEPS", 600)
    monkeypatch.setattr(bench, "REPEATS", 1)
    _, _, apart = bench.against_c()
    assert apart < 1e-6
