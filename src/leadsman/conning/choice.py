"""Which orders to give in slow work: each look the conn weighs what those a person could give would make of her motion.

She is first carried on with the model for a minute or so, under the orders that stand and in the wind felt over the
last minute. From what she ought to do half-way (`conning.harbour`), what she will do at the end, and what each order of
engine and wheel, thrusters and tugs would change about that (`conning.means`), combinations are weighed. The one is
given that leaves her nearest to what is wanted at the least price: every new order has one, and the more were given of
late the higher it is. What the last look's reckoning missed is learnt. Compiled.
"""

from typing import Any, NamedTuple

import numpy as np

from leadsman.compiled import Real, formula, kernel
from leadsman.conning import bridge, means
from leadsman.conning.anchor_work import about_the_anchor
from leadsman.conning.harbour import ACROSS, KIND, LAND, SNUB, SWING, wanted
from leadsman.conning.means import MOST_HELPERS, OPTIONS, of_engines, of_helpers
from leadsman.conning.outline import LANDING_ARM
from leadsman.conning.task import Aboard, Task
from leadsman.conning.weights import Weights
from leadsman.simulation.kernel import stride
from leadsman.simulation.state import Motion

SMALL_SLEW = 0.8  # rad that pods are slewed without more ado. Ours
ROUNDS = 2  # times every helper's options are gone through for one order of engine and wheel


class Aim(NamedTuple):
    """What is to be reached, in ship axes: changes of velocity [m/s, m/s, rad/s]; her velocity if nothing is changed;
    at a landing the side the quay is on (+1 starboard), else nil, and the speed she may close it with [m/s]; half her
    length [m]; whether how she is set across does not matter: on an anchor, or turning in open water."""

    surge: float
    sway: float
    turn: float
    surge_then: float
    sway_then: float
    turn_then: float
    quay_side: float
    pace: float
    half: float
    turning: bool


@formula
def lacking(weights: Weights, aim: Aim, surge: float, sway: float, turn: float) -> Real:
    """What changes of velocity leave to be wished for, squared. [-]"""
    ahead = surge - aim.surge
    found = ((turn - aim.turn) * aim.half / weights.drift) ** 2
    racing = ahead * (aim.surge_then + aim.surge) > 0.0
    usual = weights.berthing if aim.quay_side != 0.0 else weights.slow
    found += (ahead / (min(weights.rush, usual) if racing else usual)) ** 2
    if aim.quay_side != 0.0:
        closing = (aim.sway_then + sway) * aim.quay_side
        closing += np.abs(aim.turn_then + turn) * aim.half * LANDING_ARM
        hard = (closing - aim.pace) / (weights.hard if closing > aim.pace else weights.shy)
        return found + hard * hard
    if aim.turning:
        return found
    return found + ((sway - aim.sway) / weights.drift) ** 2


@formula
def aimed(task: Task, aboard: Aboard, phase: Any, there: Motion, then: Motion) -> Aim:
    """What is wanted of her where she will be, less what she will do if nothing is changed."""
    around = aboard.around
    surge, sway, turn = wanted(task, phase, there, around, aboard.memory.goal)
    if phase[KIND] == SNUB:
        surge, sway = about_the_anchor(task, aboard, there, turn)
    quay_side = 0.0
    if phase[KIND] == LAND:
        right = task.quay.off_east * np.cos(there.heading) - task.quay.off_north * np.sin(there.heading)
        quay_side = -1.0 if right > 0.0 else 1.0
    stream = around.stream_east * np.cos(there.heading) - around.stream_north * np.sin(there.heading)
    return Aim(
        surge - then.surge,
        sway - then.sway,
        turn - then.yaw_rate,
        then.surge,
        then.sway + stream,
        then.yaw_rate,
        quay_side,
        np.abs(sway + stream),
        np.abs(task.hull[0, 0]),
        phase[KIND] == SNUB or (phase[KIND] == SWING and phase[ACROSS] == 0.0),
    )


@kernel
def reckoned(task: Task, aboard: Aboard, motion: Motion, time: float, duration: float) -> Motion:
    """Her motion after a time under the orders put on the spare gear, what is unknown but learnt included."""
    interval = task.habits.prediction
    memory = aboard.memory
    for number in range(int(duration / interval + 0.5)):
        motion = stride(
            task.mind, task.tables, aboard.spares[0], motion, aboard.around, time + number * interval, interval
        )
        motion = Motion(
            motion.north,
            motion.east,
            motion.heading,
            motion.surge + interval * memory.unknown_surge,
            motion.sway + interval * memory.unknown_sway,
            motion.yaw_rate + interval * memory.unknown_turn,
        )
    return motion


@kernel
def of_engines_held(task: Task, aboard: Aboard, motion: Motion, then: Motion, time: float, effects: Any) -> None:
    """As `means.of_engines` for a ship on an anchor: what a kick ahead brings is mostly what the cable leaves of it, so
    every move is carried on in the model, cable and all."""
    memory, shafts = aboard.memory, int(task.mind.screw_count)
    effects[task.moves.shape[0], :] = 0.0
    for number in range(task.moves.shape[0]):
        aboard.spares[0] = aboard.gear
        for place in range(memory.orders_now.shape[0]):
            memory.orders_best[place] = task.moves[number, place] if place <= shafts else memory.orders_now[place]
        bridge.put(task.mind, task.known, aboard.spares[0], memory.orders_best)
        found = reckoned(task, aboard, motion, time, task.thought.ahead)
        effects[number, 0] = found.surge - then.surge
        effects[number, 1] = found.sway - then.sway
        effects[number, 2] = found.yaw_rate - then.yaw_rate


@formula
def learn(task: Task, memory: Any, motion: Motion, time: float) -> None:
    """Compare her motion with what was reckoned for now at the last look, and take over a part of what was missed."""
    if np.abs(time - memory.reckoned_at) > 0.5:
        return
    share = task.weights.learnt / task.habits.look
    memory.unknown_surge += share * (motion.surge - memory.reckoned_surge)
    memory.unknown_sway += share * (motion.sway - memory.reckoned_sway)
    memory.unknown_turn += share * (motion.yaw_rate - memory.reckoned_turn)


@kernel
def expect(task: Task, aboard: Aboard, motion: Motion, time: float) -> None:
    """Reckon her motion at the next look under the orders just given."""
    memory = aboard.memory
    aboard.spares[0] = aboard.gear
    bridge.put(task.mind, task.known, aboard.spares[0], memory.orders_best)
    then = reckoned(task, aboard, motion, time, task.habits.look)
    memory.reckoned_at = time + task.habits.look
    memory.reckoned_surge = then.surge
    memory.reckoned_sway = then.sway
    memory.reckoned_turn = then.yaw_rate


@formula
def engine_price(task: Task, memory: Any, number: int, engine: float, other: float) -> Real:
    """What a move of engine and wheel costs, and the power it asks. [-]"""
    shafts = int(task.mind.screw_count)
    speeds, pitches = task.known.speeds, task.known.pitches
    found = 0.0
    for shaft in range(shafts):
        line = int(memory.orders_now[shaft])
        if number < task.moves.shape[0]:
            asked = int(task.moves[number, shaft])
            found += engine * task.weights.engine_price / shafts if asked != line else 0.0
            line = asked
        found += task.weights.effort * np.abs(speeds[line] * pitches[line] / (speeds[-1] * pitches[-1])) / shafts
    if number < task.moves.shape[0] and task.moves[number, shafts] != memory.orders_now[shafts]:
        found += other * task.weights.wheel_price
        if task.mind.screws[0].azimuthing > 0.0:
            slewed = np.abs(task.moves[number, shafts] - memory.orders_now[shafts])
            found += task.weights.slew_price * max(slewed - SMALL_SLEW, 0.0)
    return found


@formula
def help_price(weights: Weights, option: int, option_count: int, now: int, other: float) -> Real:
    """What an option of a helper costs, and the power it asks. [-]"""
    quarters = np.abs(option - means.FULL)
    if option_count == OPTIONS:
        quarters = 0 if option == 0 else (option - 1) % means.FULL + 1
    return (0.0 if option == now else other * weights.help_price) + weights.effort * quarters / means.FULL


@kernel
def thought_over(task: Task, aboard: Aboard, phase: Any, motion: Motion, time: float) -> float:
    """Find the orders to give now into `memory.orders_best`, and what they leave to be wished for with their price.

    For each order of engine and wheel the helpers' options are gone through one after another, beginning once with
    those that stand and once with none.
    """
    memory = aboard.memory
    learn(task, memory, motion, time)
    bridge.standing(task.mind, memory, memory.told_telegraph, memory.told_wheel, memory.orders_now)
    aboard.spares[0] = aboard.gear
    bridge.put(task.mind, task.known, aboard.spares[0], memory.orders_now)
    half = 0.5 * task.thought.ahead
    there = reckoned(task, aboard, motion, time, half)
    then = reckoned(task, aboard, there, time + half, half)
    aim = aimed(task, aboard, phase, there, then)
    engines = np.empty((task.moves.shape[0] + 1, 3))
    if phase[KIND] >= SNUB:
        of_engines_held(task, aboard, motion, then, time, engines)
    else:
        of_engines(task, aboard, there, engines)
    helps = np.empty((MOST_HELPERS, OPTIONS, 3))
    options = np.zeros(MOST_HELPERS, np.int64)
    now = np.zeros(MOST_HELPERS, np.int64)
    helpers = of_helpers(task, aboard, there, helps, options, now)

    other = 1.0 + (bridge.busy_now(memory, time) / task.weights.ample) ** 2
    engine = other * (task.weights.too_soon if time - memory.last_engine < task.habits.engine_gap else 1.0)
    trial = np.zeros(MOST_HELPERS, np.int64)
    chosen = np.zeros(MOST_HELPERS, np.int64)
    best = task.moves.shape[0]
    least = np.inf
    for number in range(task.moves.shape[0], -1, -1):
        price = engine_price(task, memory, number, engine, other)
        for quiet in range(2 if helpers > 0 else 1):
            for helper in range(helpers):
                trial[helper] = means.stopped(options[helper]) if quiet == 1 else now[helper]
            cost = price + helped(task.weights, aim, engines[number], helps, options, now, trial, helpers, other)
            if cost < least:
                least = cost
                best = number
                chosen[:] = trial
    for place in range(task.mind.screw_count + 1):
        memory.orders_best[place] = task.moves[best, place] if best < task.moves.shape[0] else memory.orders_now[place]
    means.told(task, aboard, chosen, memory.orders_best)
    return least


@kernel
def helped(
    weights: Weights, aim: Aim, engines: Any, helps: Any, options: Any, now: Any, trial: Any, helpers: int, other: float
) -> float:
    """The least that helpers leave to be wished for with one order of engine and wheel, their price added; their
    options in `trial`."""
    least = np.inf
    for _ in range(ROUNDS):
        for helper in range(max(helpers, 1)):
            surge, sway, turn = engines[0], engines[1], engines[2]
            price = 0.0
            for each in range(helpers):
                if each != helper:
                    surge += helps[each, trial[each], 0]
                    sway += helps[each, trial[each], 1]
                    turn += helps[each, trial[each], 2]
                    price += help_price(weights, trial[each], options[each], now[each], other)
            if helpers == 0:
                return float(lacking(weights, aim, surge, sway, turn))
            least = np.inf
            for option in range(options[helper]):
                cost = price + help_price(weights, option, options[helper], now[helper], other)
                cost += lacking(
                    weights,
                    aim,
                    surge + helps[helper, option, 0],
                    sway + helps[helper, option, 1],
                    turn + helps[helper, option, 2],
                )
                if cost < least:
                    least = cost
                    trial[helper] = option
    return least


@formula
def sets_on(task: Task, around: Any) -> bool:
    """Whether the wind blows towards the quay."""
    towards = np.cos(around.wind_from) * task.quay.off_north + np.sin(around.wind_from) * task.quay.off_east
    return bool(towards > 0.0)


@formula
def wind_reckoned(task: Task, aboard: Aboard, phase: Any) -> Real:
    """The wind the conn thinks with: felt over the last minute, and near a quay to leeward some of a gust more.
    [m/s]"""
    found = aboard.memory.felt
    if phase[KIND] == LAND and sets_on(task, aboard.around):
        found += task.weights.reserve * task.waters.gust_deviation
    return found


@formula
def give(task: Task, aboard: Aboard, time: float) -> None:
    """Give the orders of `memory.orders_best` that are new."""
    ship, habits, memory, log = aboard.ship, task.habits, aboard.memory, aboard.log
    shafts = int(ship.screw_count)
    best = memory.orders_best
    for shaft in range(shafts):
        bridge.say_telegraph(log, memory, time, shaft, int(best[shaft]), habits.engineer)
    bridge.say_wheel(log, memory, time, best[shafts], habits.helmsman + aboard.draw.helmsman, True)
    place = shafts + 1
    for unit in range(int(ship.thruster_count)):
        if best[place + unit] != memory.thrust[unit]:
            memory.thrust[unit] = best[place + unit]
            bridge.write(log, memory, time, bridge.THRUSTER_ORDER, unit, memory.thrust[unit], 0.0)
    place += int(ship.thruster_count)
    for unit in range(int(ship.tug_count)):
        power = best[place + 2 * unit]
        lead = best[place + 2 * unit + 1]
        if power != memory.pull[unit] or (lead != memory.lead[unit] and power > 0.0):
            memory.pull[unit] = power
            memory.lead[unit] = lead
            bridge.write(log, memory, time, bridge.TUG_ORDER, unit, power, lead)
