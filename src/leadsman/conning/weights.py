"""How the conn of slow work weighs motion, people and power against each other. Settings of ours, none fitted."""

from typing import NamedTuple


class Weights(NamedTuple):
    """Errors of velocity that weigh as much as each other [m/s]: `slow` ahead, `rush` ahead faster than she can still
    stop, `drift` across or of an end by turning; at a landing `berthing` ahead, along the quay, and towards it `hard`
    faster and `shy` slower than she is to come.

    What a new order costs, in those errors squared: of one engine, of the wheel, of a thruster or tug, of pods for each
    radian they slew far, their thrust the wrong way meanwhile; times `too_soon` for an engine order within
    `Habits.engine_gap` of the last; doubled when `ample` orders were given in ten minutes. `effort` what full power of
    everything costs.

    `reserve` deviations of the gusts kept in hand where the wind sets her on to the quay; `learnt` the share of
    what a reckoning missed that is taken over at the next look. `space` to shoals and `quay_space` to a quay she is
    to land at but not yet, below which she is to go away from them [m], with up to `away` [m/s]. `hover` the
    distance off the fenders from which she is already no faster than she is to touch, and no less than she makes at
    `creep` [m/s] in the time she is thought ahead; `placed` the distance along the quay that is near enough [m],
    and `prompt` how soon she is to make good the rest, in the time a place is usually come to; `gently` the share
    used of how fast she can be checked sideways. `check` how far off her heading she may still turn at the full
    rate [rad]. `leeway` the set of a ship that makes little way, of the wind (common practice, no source), which is
    laid off in her heading.

    Time from an order until it tells, people and gear together [s]: `engine_delay`, `thruster_delay`, `tug_delay`.
    """

    slow: float = 0.30
    rush: float = 0.15
    drift: float = 0.12
    hard: float = 0.04
    shy: float = 0.07
    engine_price: float = 0.50
    wheel_price: float = 0.20
    help_price: float = 0.25
    slew_price: float = 2.0
    too_soon: float = 2.0
    ample: float = 20.0
    effort: float = 0.05
    reserve: float = 0.1
    learnt: float = 0.45
    space: float = 12.0
    quay_space: float = 16.0
    away: float = 0.25
    hover: float = 6.0
    creep: float = 0.10
    placed: float = 5.0
    berthing: float = 0.24
    prompt: float = 0.8
    gently: float = 0.6
    check: float = 0.436
    leeway: float = 0.02
    engine_delay: float = 10.0
    thruster_delay: float = 8.0
    tug_delay: float = 35.0
