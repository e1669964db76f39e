"""Runs alone in a process of its own: reads a vector file with GDAL under limits and writes what it found as JSON.

Started by `isolated.py` as a script. It imports nothing of ours, so that a file which breaks GDAL breaks only this. The
answer is JSON and not a pickle: whatever a hostile file makes of this process, its answer can run no code elsewhere.
"""

import json
import math
import sys
import warnings
from typing import Any


def limit_resources(memory: int, seconds: int, output: int) -> None:
    """Bound address space [bytes], processor time [s] and size of a written file [bytes], where the system can."""
    try:
        import resource
    except ImportError:  # no such limits on Windows; the parent's clock still holds
        return
    for which, most in (
        (resource.RLIMIT_AS, memory),
        (resource.RLIMIT_CPU, seconds),
        (resource.RLIMIT_FSIZE, output),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(which)
        resource.setrlimit(which, (most, hard) if hard == resource.RLIM_INFINITY or most < hard else (hard, hard))


def plain(value: Any) -> Any:
    """A field value in the types of JSON; a missing one is None."""
    if hasattr(value, "tolist"):
        value = value.tolist()
    if isinstance(value, float) and not math.isfinite(value):
        return None
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, bytes):
        return None
    return value if isinstance(value, str | int | float | bool) or value is None else str(value)


def read(path: str, wanted: list[str] | None, options: dict[str, str], most: int) -> dict[str, Any]:
    """The wanted layers (all, if None) of a file: columns of values, geometries as WKB in hexadecimal."""
    import pyogrio

    layers: dict[str, Any] = {}
    total = 0
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        present = [str(name) for name, _ in pyogrio.list_layers(path)]
        for name in present:
            if wanted is not None and name not in wanted:
                continue
            total += pyogrio.read_info(path, layer=name, force_feature_count=True)["features"]
            if total > most:  # asked first, since GDAL's wrapper reserves memory for all rows before it reads any
                return {"error": f"holds more than {most} features"}
            meta, _, geometry, columns = pyogrio.raw.read(path, layer=name, datetime_as_string=True, **options)
            count = len(columns[0]) if columns else len(geometry) if geometry is not None else 0
            layers[name] = {
                "crs": meta.get("crs"),
                "count": count,
                "geometry": None if geometry is None else [None if g is None else g.hex() for g in geometry],
                "columns": {str(f): [plain(v) for v in c] for f, c in zip(meta["fields"], columns, strict=True)},
            }
    remarks = sorted({str(warning.message)[:300] for warning in caught})[:100]
    return {"present": present, "layers": layers, "remarks": remarks}


def main() -> None:
    """Read the request on standard input, obey it, write the answer where it says."""
    request = json.load(sys.stdin)
    limit_resources(request["memory"], request["seconds"], request["output"])
    try:
        answer = read(request["path"], request["layers"], request["options"], request["features"])
    except MemoryError:
        answer = {"error": f"needs more than {request['memory'] / 1e6:.0f} MB of memory to read"}
    except Exception as error:  # every failure of the reader is the file's: it is told in a sentence by the parent
        answer = {"error": f"cannot be read: {' '.join(str(error).split())[:300]}"}
    with open(request["answer"], "w", encoding="utf-8") as stream:
        json.dump(answer, stream, allow_nan=False)


if __name__ == "__main__":
    main()
