"""Tides and charts: a year of one-minute heights, the same by UTide, and a chart cell of 5 MB read and drafted."""

import statistics
import sys
import tempfile
import time
import tomllib
import warnings
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "builders"))

from s57_cell import Cell  # noqa: E402

from leadsman.files.formats import s57, waterway_draft  # noqa: E402
from leadsman.physics import tide  # noqa: E402
from leadsman.units import DEGREE, MINUTE  # noqa: E402

MINUTES = 365 * 24 * 60
AS_UTIDE_SAYS = {"LAM2": "LDA2", "RHO": "RHO1", "M1": "NO1", "2MK3": "MO3", "MM": "MM", "SSA": "SSA", "MF": "MF"}
SIDE = 80  # depth areas along each side of the cell that is made


def median(action: Callable[[], object], times: int) -> float:
    """Median seconds of an action, after one run that does not count."""
    action()
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        action()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def by_utide(constants: dict[str, tuple[float, float]], mean: float) -> Callable[[], object]:
    """A tenth of a year of minutes by UTide, from the same constants."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import utide
        from utide._ut_constants import ut_constants
        from utide.utilities import Bunch
    known = [str(name).strip() for name in ut_constants.const.name]
    names = [AS_UTIDE_SAYS.get(name, name) for name in constants]
    index = np.array([known.index(name) for name in names])
    options = Bunch(
        twodim=False, nodsatlint=False, nodsatnone=False, gwchlint=False, gwchnone=False, nodiagn=True, notrend=True,
        prefilt=[],
    )  # fmt: skip
    reference = float(datetime(2026, 7, 2).toordinal())
    auxiliary = Bunch(reftime=reference, frq=ut_constants.const.freq[index], lind=index, lat=42.35, opt=options)
    coefficients = Bunch(
        name=np.array(names),
        A=np.array([amplitude for amplitude, _ in constants.values()]),
        g=np.array([lag / DEGREE for _, lag in constants.values()]),
        A_ci=np.zeros(len(names)),
        mean=mean,
        aux=auxiliary,
    )
    moments = np.datetime64("2026-01-01T00:00") + np.arange(MINUTES // 10).astype("timedelta64[m]")
    return lambda: utide.reconstruct(moments, coefficients, verbose=False)


def big_cell(path: Path) -> Path:
    """An invented cell of about 5 MB: depth areas in squares, and soundings."""
    cell = Cell("XX5BIGCL")
    step = 0.002
    for row in range(SIDE):
        for column in range(SIDE):
            south, west = -30.0 + row * step, -120.0 + column * step
            corners = [(south, west), (south, west + step), (south + step, west + step), (south + step, west)]
            cell.area("DEPARE", corners, DRVAL1=5 + (row + column) % 7, DRVAL2=20)
    rng = np.random.default_rng(1)
    for _ in range(110):
        places = rng.uniform(0.0, SIDE * step, (2000, 2))
        cell.soundings([(-30.0 + north, -120.0 + east, 25.0) for north, east in places.tolist()])
    cell.area("M_COVR", [(-30.1, -120.1), (-30.1, -119.5), (-29.5, -119.5), (-29.5, -120.1)], CATCOV=1)
    return cell.write(path)


def main() -> None:
    boston = tomllib.loads((ROOT / "authorities/noaa_boston/station.toml").read_text())
    constants = {name: (height, lag * DEGREE) for name, (height, lag) in boston["constituents"].items()}
    start = datetime(2026, 1, 1, tzinfo=UTC).timestamp()
    end = start + (MINUTES - 1) * MINUTE

    def year() -> object:
        prepared = tide.harmonics(constants, boston["mean_level_m"], start, end)
        return tide.grid(prepared, start, MINUTE, MINUTES)

    own = median(year, 5)
    theirs = 10.0 * median(by_utide(constants, boston["mean_level_m"]), 1)
    print(f"a year of minutes          {own:6.3f} s   levels and rates, 37 constituents")
    print(f"the same by UTide          {theirs:6.3f} s   {theirs / own:5.0f} x ours, from a tenth of the year")
    with tempfile.TemporaryDirectory() as folder:
        path = big_cell(Path(folder) / "XX5BIGCL.000")
        size = path.stat().st_size / 1e6
        read = median(lambda: s57.read(path), 3)
        cell = s57.read(path)
        drafted = median(lambda: waterway_draft.draft(cell), 1)
    print(
        f"read a cell of {size:.1f} MB      {read:6.3f} s   {len(cell.features)} objects, start of its process included"
    )
    print(f"draft a waterway of it     {drafted:6.3f} s")


if __name__ == "__main__":
    main()
