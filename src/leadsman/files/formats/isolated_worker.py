"""Runs alone in a process of its own: reads one file with GDAL or HDF5 under limits and writes down what it found.

Started by `isolated.py` as a script. It imports nothing of ours: a file that breaks a library breaks only this.
The answer is JSON, with plain numbers beside it, and no pickle: whatever a hostile file makes of this process, its
answer can run no code elsewhere.
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


class Refused(Exception):
    """A file that is not read, with the reason."""


def read_hdf5(path: str, numbers: str, most_bytes: int, most_groups: int) -> dict[str, Any]:
    """Attributes of all groups and, in the file `numbers`, the values of all data sets of plain numbers."""
    import h5py

    found: dict[str, Any] = {"groups": {}, "datasets": {}, "texts": {}}
    total = 0
    with h5py.File(path, "r") as file, open(numbers, "wb") as stream:
        waiting = [("/", file, 0)]
        while waiting:
            place, group, depth = waiting.pop()
            if len(found["groups"]) >= most_groups:
                raise Refused(f"holds more than {most_groups} groups")
            if depth > 8:
                raise Refused("is nested deeper than 8 groups, or in a circle")
            found["groups"][place] = attributes(group)
            for name in group:
                if not isinstance(group.get(name, getlink=True), h5py.HardLink):
                    raise Refused(f"links '{name[:40]}' to another place; links are not followed")
                child = group[name]
                below = f"{place.rstrip('/')}/{name}"
                if isinstance(child, h5py.Group):
                    waiting.append((below, child, depth + 1))
                elif isinstance(child, h5py.Dataset):
                    total += written(child, below, stream, found, most_bytes - total)
    return found


def written(dataset: Any, place: str, stream: Any, found: dict[str, Any], most: int) -> int:
    """Write one data set of numbers, or keep a small one of texts; gives its size. Nothing too large is allocated."""
    if dataset.is_virtual or dataset.external:
        raise Refused(f"keeps '{place[:60]}' in another file; that is not read")
    if dataset.shape is None:
        return 0
    count = math.prod(dataset.shape)
    size = int(count * dataset.dtype.itemsize)
    if size > most:
        raise Refused(f"says that '{place[:60]}' has the shape {dataset.shape}; that is more than is read")
    fields = dataset.dtype.fields
    kinds = {dataset.dtype.kind} if fields is None else {field[0].kind for field in fields.values()}
    if kinds <= set("fiu"):
        values = dataset[()]
        plain_type = values.dtype.newbyteorder("<")
        content = values.astype(plain_type).tobytes()
        found["datasets"][place] = {
            "offset": stream.tell(),
            "size": len(content),
            "shape": list(dataset.shape),
            "type": [[name, kind] for name, kind in described(plain_type)] if fields else plain_type.str,
        }
        stream.write(content)
        return len(content)
    if fields and kinds <= set("SOfiu") and count <= 1000:
        found["texts"][place] = [
            {name: text(row[name]) for name in dataset.dtype.names} for row in dataset[()].reshape(-1)
        ]
    return size


def described(kind: Any) -> list[tuple[str, str]]:
    """(name, type) of each field of a compound without gaps."""
    return [(name, kind.fields[name][0].newbyteorder("<").str) for name in kind.names]


def text(value: Any) -> str:
    """A text of HDF5, whichever of its ways of storing it was used."""
    return (value.decode("utf-8", "replace") if isinstance(value, bytes) else str(value))[:1000]


def attributes(group: Any) -> dict[str, Any]:
    """Attributes that are single texts or numbers, or short rows of them."""
    found = {}
    for name in list(group.attrs)[:500]:
        try:
            value = group.attrs[name]
        except (OSError, TypeError, ValueError):
            continue  # a type that nobody can read says nothing
        if isinstance(value, bytes | str):
            found[name] = text(value)
        elif getattr(value, "size", 1) <= 100:
            found[name] = plain(value)
    return found


def answer_to(request: dict[str, Any]) -> dict[str, Any]:
    """What the request asks for, or why it is not given."""
    try:
        if request["kind"] == "hdf5":
            return read_hdf5(request["path"], request["numbers"], request["values"], request["features"])
        return read(request["path"], request["layers"], request["options"], request["features"])
    except Refused as refused:
        return {"error": str(refused)}
    except MemoryError:
        return {"error": f"needs more than {request['memory'] / 1e6:.0f} MB of memory to read"}
    except Exception as error:  # every failure of the reader is the file's: it is told in a sentence by the parent
        return {"error": f"cannot be read: {' '.join(str(error).split())[:300]}"}


def main() -> None:
    """Read the request on standard input, obey it, write the answer where it says."""
    request = json.load(sys.stdin)
    limit_resources(request["memory"], request["seconds"], request["output"])
    answer = answer_to(request)
    with open(request["answer"], "w", encoding="utf-8") as stream:
        json.dump(answer, stream, allow_nan=False)


if __name__ == "__main__":
    main()
