"""Formulas are written once, in Python: called plainly they take floats or arrays, inside a kernel they are compiled.

A `formula` stays the plain function it is, so that a command that needs one number never loads the compiler. It
becomes callable from compiled code at the moment the first `kernel` is used. Write formulas with numpy functions
(`np.sqrt`, `np.minimum`) and with `where` of this module, which take floats and arrays alike and compile; a formula of
scalars only may branch with `if`, and says so in its docstring. A kernel that calls another kernel imports it by name.

A `kernel` is compiled at its first call and kept on disk. numba's own cache does not notice a change in a function
called from another file (tried: a doubled formula kept its old value inside the kernel); therefore the cache folder
is named by a hash of all sources the kernel may call: its own part of the package and the parts below it.
"""

import functools
import os
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any, TypeAlias, TypeVar

import numpy as np

Real: TypeAlias = Any
"""A float, or a float64 array of any shape: what a formula takes and gives back."""

Function = TypeVar("Function", bound=Callable[..., Any])

PARTS = ("physics", "environment", "simulation", "conning", "assessment")
"""The parts of the package that hold kernels; each may call those before it and the modules beside them."""

_formulas: list[Callable[..., Any]] = []
_registered = 0


def formula(function: Function) -> Function:
    """Mark a function of numbers as usable inside kernels; the function itself is returned unchanged."""
    _formulas.append(function)
    return function


def where(condition: Real, then: Real, otherwise: Real) -> Real:
    """`then` where the condition holds, else `otherwise`; unlike with `np.where`, a number stays a number."""
    chosen: Real = np.where(condition, then, otherwise)
    return chosen[()]


def kernel(function: Function | None = None, *, parallel: bool = False) -> Any:
    """Compile a function with numba at its first call; formulas, and other kernels, may be called inside.

    With `parallel=True` the kernel may use `prange`; results must not depend on the number of threads.
    """
    if function is None:
        return functools.partial(kernel, parallel=parallel)
    return _Kernel(function, parallel)


class _Kernel:
    """A function that compiles itself on first use, so that importing a module costs nothing."""

    def __init__(self, function: Callable[..., Any], parallel: bool) -> None:
        self.function = function
        self.parallel = parallel
        self._dispatcher: Any = None
        functools.update_wrapper(self, function)

    @property
    def dispatcher(self) -> Any:
        """The compiled thing, made on first use."""
        if self._dispatcher is None:
            numba = _numba()
            # Kernels called by this one stand in its module's names as _Kernel objects, which numba does not know.
            names = self.function.__globals__
            for name, thing in list(names.items()):
                if isinstance(thing, _Kernel) and thing is not self and name in self.function.__code__.co_names:
                    names[name] = thing.dispatcher
            setattr(numba.config, "CACHE_DIR", str(cache_folder(self.function.__module__)))  # noqa: B010 # made at run time
            self._dispatcher = numba.njit(cache=True, error_model="numpy", nogil=True, parallel=self.parallel)(
                self.function
            )
        return self._dispatcher

    def __call__(self, *arguments: Any) -> Any:
        return self.dispatcher(*arguments)


@functools.cache
def sources_hash(part: str = "") -> str:
    """Twelve hexadecimal figures that change with any source file that a part may call; with any at all by default."""
    package = Path(__file__).parent
    files = package.rglob("*.py")
    if part in PARTS:
        seen = PARTS[: PARTS.index(part) + 1]
        files = (file for file in files if file.parent == package or file.relative_to(package).parts[0] in seen)
    digest = sha256()
    for file in sorted(files):
        digest.update(file.relative_to(package).as_posix().encode())
        digest.update(file.read_bytes())
    return digest.hexdigest()[:12]


def cache_root() -> Path:
    """Where all lies that may be thrown away and made again; LEADSMAN_CACHE moves it elsewhere."""
    return Path(
        os.environ.get("LEADSMAN_CACHE")
        or os.path.join(os.environ.get("XDG_CACHE_HOME") or os.path.expanduser("~/.cache"), "leadsman")
    )


def cache_folder(module: str = "") -> Path:
    """Where a module's compiled kernels of exactly these sources lie."""
    part = module.split(".")[1] if module.startswith("leadsman.") else ""
    return cache_root() / "kernels" / sources_hash(part)


@functools.cache
def _configured_numba() -> Any:
    import numba
    import numba.extending

    @numba.extending.overload(where)
    def compiled_where(condition, then, otherwise):  # type: ignore[no-untyped-def] # numba compares annotations too
        return lambda condition, then, otherwise: then if condition else otherwise

    return numba


def _numba() -> Any:
    """numba, told where the cache is and told of every formula defined so far."""
    global _registered
    numba = _configured_numba()
    from numba.extending import register_jitable

    while _registered < len(_formulas):
        register_jitable(_formulas[_registered])
        _registered += 1
    return numba
