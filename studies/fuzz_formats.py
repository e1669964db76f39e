"""Spoils one sample of every foreign format many times and counts what its reader does with it.

Prints, for each format: inputs tried, read all the same, refused in a sentence, readers that died or ran out of time in
their own process (contained, and told in a sentence), and crashes: anything else that reached us. Formats that are read
in a separate process run here in a fork with the libraries already loaded, under the same limits of memory and less
time, which is the same work without the start of a Python.

    python studies/fuzz_formats.py [inputs for each format] [seed]
"""

import importlib.util
import json
import os
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path
from random import Random
from types import ModuleType

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests" / "builders")]

import h5py  # noqa: F401 # loaded before the fork, which then need not
import pyogrio  # noqa: F401
from mutations import mutated
from sample_files import Sample, write_samples

from leadsman.errors import LeadsmanError
from leadsman.files.formats import isolated
from leadsman.files.formats.door import Faults

PATIENCE = 5  # s for one input; the readers themselves wait longer
DIED = ("broke its reader", "took longer than")


def worker() -> ModuleType:
    """The worker of the separate process as a module."""
    made = importlib.util.spec_from_file_location("isolated_worker", isolated.WORKER)
    assert made is not None
    assert made.loader is not None
    module = importlib.util.module_from_spec(made)
    made.loader.exec_module(module)
    return module


def run_in_fork(module: ModuleType, request: str, seconds: int, faults: Faults) -> int:
    """What `isolated._run` does, in a fork of this process."""
    child = os.fork()
    if child == 0:
        try:
            asked = json.loads(request)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
            module.limit_resources(asked["memory"], asked["seconds"], asked["output"])
            answer = module.answer_to(asked)
            with open(asked["answer"], "w", encoding="utf-8") as stream:
                json.dump(answer, stream, allow_nan=False)
        except BaseException:
            os._exit(1)
        os._exit(0)
    seconds = min(seconds, PATIENCE)
    deadline = time.monotonic() + seconds
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return os.waitstatus_to_exitcode(status)
        if time.monotonic() > deadline:
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            raise faults.stop(f"took longer than {seconds} s to read; it was given up")
        time.sleep(0.001)


def tried(sample: Sample, content: bytes, folder: Path) -> tuple[str, str]:
    """(what became of one input, its sentence or traceback)."""
    path = folder / sample.path.name
    path.write_bytes(content)
    try:
        sample.read(path)
    except LeadsmanError as error:
        died = any(word in str(error) for word in DIED)
        return ("died apart" if died else "refused"), str(error)
    except Exception:
        return "CRASH", traceback.format_exc()
    return "read", ""


def main() -> int:
    """Run the study and print its table; 1 if anything crashed."""
    inputs = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    seed = sys.argv[2] if len(sys.argv) > 2 else "1"
    module = worker()
    isolated._run = lambda request, seconds, faults: run_in_fork(module, request, seconds, faults)
    print(
        f"{'format':16}{'inputs':>9}{'read':>9}{'refused':>9}{'died apart':>12}{'crashes':>9}{'s':>8}{'slowest s':>11}"
    )
    total: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        samples = write_samples(folder)
        spoilt = folder / "spoilt"
        spoilt.mkdir()
        for format_name, sample in samples.items():
            random, sound = Random(f"{seed} {format_name}"), sample.path.read_bytes()
            counts: Counter[str] = Counter()
            begin, slowest = time.monotonic(), 0.0
            for _ in range(inputs):
                content, before = mutated(sound, random), time.monotonic()
                what, text = tried(sample, content, spoilt)
                slowest = max(slowest, time.monotonic() - before)
                counts[what] += 1
                if what == "CRASH":
                    print(text, file=sys.stderr)
            total += counts
            row = f"{format_name:16}{inputs:9}{counts['read']:9}{counts['refused']:9}{counts['died apart']:12}"
            print(f"{row}{counts['CRASH']:9}{time.monotonic() - begin:8.1f}{slowest:11.2f}", flush=True)
    print(f"{'all':16}{total.total():9}{total['read']:9}{total['refused']:9}{total['died apart']:12}{total['CRASH']:9}")
    return 1 if total["CRASH"] else 0


if __name__ == "__main__":
    sys.exit(main())
