"""Which loads a set of engines, rudders, thrusters and tugs can balance: convex geometry and linear programs.

Whatever she can use is a `reach`: an array, shape (m, 3), of the outermost surge, sway and yaw it can make, in ship
axes. It can make nothing, each of these, and all between them. Several reaches together make the sum of what each
makes: a convex body, to whose edge two ways lead.

- `most_held`, `least_effort` and `shortfall`: linear programs over the weights of the outermost points, solved by HiGHS
  through scipy. They say who does what. This is the reference.
- `attainable`: the body written out as half-spaces. A face of a sum of polytopes lies along two of their edges, so the
  cross products of all pairs of edges are all the normals there can be. Then thousands of loads are judged by one
  product of matrices. Tests hold it to the linear program.
"""

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]

MOST_TIMES = 20.0  # a load can be held at most this many times: with no load at all there would be no end
_FLAT = 1e-9  # relative size below which a direction has no extent


class Attainable(NamedTuple):
    """A convex body of loads as half-spaces: for every row, normal times (surge, sway, yaw/lever) <= support."""

    normals: Array
    """Shape (k, 3). [-]"""
    support: Array
    """Shape (k,). [N]"""
    lever: float
    """By which moments are divided, so that forces and moments weigh alike. [m]"""


def attainable(reaches: Sequence[Array], lever: float) -> Attainable:
    """All surge, sway and yaw that several reaches make together.

    Parameters
    ----------
    reaches : sequence of arrays, each of shape (m, 3)
        Outermost points of each. [N, N, N m]
    lever : float
        About half her length. [m]

    Source: derived: normals of the faces of a Minkowski sum.
    """
    bodies = [np.concatenate([np.zeros((1, 3)), _even(reach, lever)]) for reach in reaches]
    # The three axes stand for a cube too small to matter: with it the body is never flat, and its normals are enough.
    edges = _directions(np.concatenate([np.eye(3), *(_edges(body) for body in bodies)]))
    first, second = np.triu_indices(len(edges), k=1)
    normals = np.cross(edges[first], edges[second])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    normals = _directions(normals)
    normals = np.concatenate([normals, -normals])
    support = np.sum([np.max(normals @ body.T, axis=1) for body in bodies], axis=0)
    return Attainable(normals, support, lever)


def _even(loads: Array, lever: float) -> Array:
    """Loads with the moment divided by the lever, so that all three weigh alike."""
    even: Array = np.atleast_2d(np.asarray(loads, dtype=float)) / np.array([1.0, 1.0, lever])
    return even


def _edges(body: Array) -> Array:
    """Edges of the hull of some points that may lie on a line or in a plane. Shape (n, 3)."""
    from scipy.spatial import ConvexHull  # late: only who judges many loads pays for it

    spread, axes = np.linalg.svd(body - body.mean(axis=0), full_matrices=False)[1:]
    extent = int(np.sum(spread > _FLAT * max(float(spread[0]), 1.0)))
    if extent == 0:
        return np.zeros((0, 3))
    along = body @ axes[:extent].T
    if extent == 1:
        return np.atleast_2d(body[np.argmax(along[:, 0])] - body[np.argmin(along[:, 0])])
    facets = ConvexHull(along).simplices
    pairs = facets if extent == 2 else np.concatenate([facets[:, [0, 1]], facets[:, [1, 2]], facets[:, [2, 0]]])
    edges: Array = body[pairs[:, 1]] - body[pairs[:, 0]]
    return edges


def _directions(vectors: Array) -> Array:
    """Unit vectors, each direction and its opposite once."""
    units = vectors / np.linalg.norm(vectors, axis=1)[:, None]
    first = np.argmax(np.abs(units) > 1e-7, axis=1)
    units = units * np.sign(np.take_along_axis(units, first[:, None], axis=1))
    unlike: Array = np.unique(np.round(units, 9), axis=0)
    return unlike


def holds(body: Attainable, loads: Array) -> NDArray[np.bool_]:
    """Whether each load, shape (n, 3), can be balanced. [N, N, N m]"""
    demand = body.normals @ -_even(loads, body.lever).T
    slack = 1e-9 * max(float(np.max(body.support)), 1.0)
    found: NDArray[np.bool_] = np.all(demand <= body.support[:, None] + slack, axis=0)
    return found


def factors_held(body: Attainable, loads: Array, constant: Array) -> tuple[Array, Array]:
    """Least and greatest multiple of each load that can be balanced together with a constant one.

    Parameters
    ----------
    loads : array, shape (n, 3)
        [N, N, N m]
    constant : array, shape (3,) or (n, 3)
        Always there, such as the current; one for all loads, or one for each. [N, N, N m]

    Returns
    -------
    least, greatest : arrays, shape (n,)
        Not above each other where none can be balanced; least is not below 0, greatest not above infinity. [-]
    """
    demand = body.normals @ -_even(loads, body.lever).T
    left = body.support[:, None] + body.normals @ _even(constant, body.lever).T
    small = 1e-12 * np.max(np.abs(demand), axis=0, initial=1.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = left / demand
    greatest = np.min(np.where(demand > small, ratio, np.inf), axis=0)
    least = np.max(np.where(demand < -small, ratio, 0.0), axis=0)
    impossible = np.any((np.abs(demand) <= small) & (left < 0.0), axis=0)
    return np.where(impossible, np.inf, least), np.where(impossible, -np.inf, greatest)


def farthest(body: Attainable, directions: Array) -> Array:
    """How far the body reaches along each direction, shape (n, 3), as a multiple of it. [-]"""
    return factors_held(body, -np.asarray(directions, dtype=float), np.zeros(3))[1]


class Effort(NamedTuple):
    """What each reach makes so that a load is balanced."""

    made: Array
    """Shape (reaches, 3). [N, N, N m]"""
    used: Array
    """Share of what each could make, 0 to 1. Shape (reaches,). [-]"""
    unbalanced: Array
    """Load and all that is made, added: nil but for rounding or for what cannot be held. Shape (3,). [N, N, N m]"""


def most_held(reaches: Sequence[Array], load: Array, constant: Array, lever: float) -> float:
    """Greatest multiple of a load that can be balanced together with a constant one, at most `MOST_TIMES`. [-]

    Negative infinity where the constant load alone, or with any multiple, cannot be balanced.

    Source: derived: linear program, solved by HiGHS.
    """
    points, owners = _stacked(reaches, lever)
    size = _size(points, load, constant, lever)
    weights = len(points)
    found = _solve(
        cost=np.append(np.zeros(weights), -1.0),
        equal=np.column_stack([points.T / size, _even(load, lever)[0] / size]),
        equals=-_even(constant, lever)[0] / size,
        shares=np.column_stack([owners, np.zeros(len(reaches))]),
        limits=np.ones(len(reaches)),
        greatest=np.append(np.full(weights, np.inf), MOST_TIMES),
    )
    return -np.inf if found is None else float(found[-1])


def least_effort(
    reaches: Sequence[Array], load: Array, costs: Sequence[float], most: Sequence[float], lever: float
) -> Effort | None:
    """Who makes what, so that a load is balanced at the least cost; None where it cannot be.

    Parameters
    ----------
    costs : sequence of floats
        Of using all of each reach. [-]
    most : sequence of floats
        Share of each reach that may be used. [-]

    Source: derived: linear program, solved by HiGHS.
    """
    points, owners = _stacked(reaches, lever)
    size = _size(points, load, np.zeros(3), lever)
    found = _solve(
        cost=np.asarray(costs) @ owners,
        equal=points.T / size,
        equals=-_even(load, lever)[0] / size,
        shares=owners,
        limits=np.asarray(most, dtype=float),
        greatest=np.full(len(points), np.inf),
    )
    return None if found is None else _effort(found, points, owners, load, lever)


def shortfall(reaches: Sequence[Array], load: Array, lever: float) -> Effort:
    """Who makes what, so that the least of a load stays unbalanced: surge, sway and yaw/lever weigh alike.

    Source: derived: linear program, solved by HiGHS.
    """
    points, owners = _stacked(reaches, lever)
    size = _size(points, load, np.zeros(3), lever)
    weights = len(points)
    slack = np.eye(3)
    found = _solve(
        cost=np.concatenate([np.full(weights, 1e-6), np.ones(6)]),
        equal=np.column_stack([points.T / size, slack, -slack]),
        equals=-_even(load, lever)[0] / size,
        shares=np.column_stack([owners, np.zeros((len(reaches), 6))]),
        limits=np.ones(len(reaches)),
        greatest=np.full(weights + 6, np.inf),
    )
    assert found is not None, "with slack in every direction there is always an answer"
    return _effort(found[:weights], points, owners, load, lever)


def least_strength(reaches: Sequence[Array], unit_reaches: Sequence[Array], load: Array, lever: float) -> Array | None:
    """How strong some means must be so that all together balance a load, with the least sum; None where none do.

    Parameters
    ----------
    reaches : sequence of arrays, each of shape (m, 3)
        Of the means that are as strong as they are. [N, N, N m]
    unit_reaches : sequence of arrays, each of shape (m, 3)
        Of those whose strength is asked, for a strength of one.

    Returns
    -------
    strengths : array, shape (unit_reaches,)

    Source: derived: linear program, solved by HiGHS.
    """
    points, owners = _stacked([*reaches, *unit_reaches], lever)
    given = int(np.sum(owners[: len(reaches)]))
    size = _size(points[:given], load, np.zeros(3), lever)
    scale = np.concatenate([np.ones(given), np.full(len(points) - given, size)])  # strengths in units of the load
    found = _solve(
        cost=np.concatenate([np.full(given, 1e-9), np.ones(len(points) - given)]),
        equal=(points * scale[:, None]).T / size,
        equals=-_even(load, lever)[0] / size,
        shares=owners[: len(reaches)],
        limits=np.ones(len(reaches)),
        greatest=np.full(len(points), np.inf),
    )
    return None if found is None else owners[len(reaches) :] @ (found * scale)


class Placing(NamedTuple):
    """Who works where."""

    times: float
    """Greatest multiple of the load that is held; negative infinity where none is. [-]"""
    places: tuple[int | None, ...]
    """For each mover the place it takes; None where it is not needed anywhere."""


def best_places(reaches: Sequence[Array], options: Sequence[Sequence[Array]], load: Array, lever: float) -> Placing:
    """Where movers work best, each at one place at most and each place taken once at most.

    Parameters
    ----------
    reaches : sequence of arrays, each of shape (m, 3)
        Of all that stays where it is. [N, N, N m]
    options : sequence over movers of sequences over places of arrays, each of shape (m, 3)
        What each mover makes at each place. [N, N, N m]

    Source: derived: mixed-integer linear program, solved by HiGHS.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp  # late: only who places tugs pays for it

    movers, spots = len(options), len(options[0])
    points, owners = _stacked([*reaches, *(reach for row in options for reach in row)], lever)
    size = _size(points, load, np.zeros(3), lever)
    weights, fixed, pairs = len(points), len(reaches), movers * spots
    # Unknown: the weights, then for each mover and place whether it works there, then how many times the load is held.
    once = np.concatenate([np.repeat(np.eye(movers), spots, axis=1), np.tile(np.eye(spots), movers)])
    rows = np.zeros((fixed + pairs + movers + spots, weights + pairs + 1))
    rows[: fixed + pairs, :weights] = owners
    rows[fixed : fixed + pairs, weights:-1] = -np.eye(pairs)  # no weight at a place where the mover is not
    rows[fixed + pairs :, weights:-1] = once
    limits = np.concatenate([np.ones(fixed), np.zeros(pairs), np.ones(movers + spots)])
    equal = np.column_stack([points.T / size, np.zeros((3, pairs)), _even(load, lever)[0] / size])
    found = milp(
        np.concatenate([np.zeros(weights), np.full(pairs, 1e-6), [-1.0]]),  # no tug where it adds nothing
        constraints=[LinearConstraint(rows, -np.inf, limits), LinearConstraint(equal, 0.0, 0.0)],
        integrality=np.concatenate([np.zeros(weights), np.ones(pairs), [0.0]]),
        bounds=Bounds(0.0, np.concatenate([np.ones(weights + pairs), [MOST_TIMES]])),
    )
    if found.x is None:
        raise ArithmeticError(f"the placing of tugs did not end: {found.message}")
    chosen = np.round(found.x[weights:-1]).reshape(movers, spots)
    return Placing(float(found.x[-1]), tuple(int(np.argmax(row)) if row.any() else None for row in chosen))


def _stacked(reaches: Sequence[Array], lever: float) -> tuple[Array, Array]:
    """All outermost points under each other, and which reach owns which. Shapes (points, 3), (reaches, points)."""
    if not reaches:
        return np.zeros((0, 3)), np.zeros((0, 0))
    counts = [len(reach) for reach in reaches]
    owners = np.repeat(np.eye(len(reaches)), counts, axis=1)
    return np.concatenate([_even(reach, lever) for reach in reaches]), owners


def _size(points: Array, load: Array, constant: Array, lever: float) -> float:
    """A force of the order of those at hand, so that the solver sees numbers near one."""
    all_loads = np.concatenate([points, _even(load, lever), _even(constant, lever)])
    return max(float(np.max(np.abs(all_loads))), 1.0)


def _solve(cost: Array, equal: Array, equals: Array, shares: Array, limits: Array, greatest: Array) -> Array | None:
    """Weights of least cost; None where there are none.

    Seldom, with loads very much greater than all means, the solver ends without saying which; it is asked another way.
    """
    from scipy.optimize import linprog  # late: a command that needs no balance does not wait for it

    for presolve, method in ((True, "highs"), (False, "highs-ds"), (False, "highs-ipm")):
        found = linprog(
            cost,
            A_ub=shares if shares.size else None,
            b_ub=limits if shares.size else None,
            A_eq=equal,
            b_eq=equals,
            bounds=np.column_stack([np.zeros(len(cost)), greatest]),
            method=method,
            options={"presolve": presolve},
        )
        if found.status in (0, 2):  # 2: infeasible, an answer as good as any
            return np.asarray(found.x, dtype=float) if found.status == 0 else None
    raise ArithmeticError(f"the linear program of the balance did not end: {found.message}")


def _effort(weights: Array, points: Array, owners: Array, load: Array, lever: float) -> Effort:
    back = np.array([1.0, 1.0, lever])
    made = (owners * weights) @ points * back
    return Effort(made, owners @ weights, made.sum(axis=0) + np.asarray(load, dtype=float))
