"""Engines and steering gear, once a step: what is ordered becomes shaft speed, pitch and rudder angle. Compiled
formulas."""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import engine, propeller
from leadsman.physics.engine import CONTROLLABLE, DIRECT, ELECTRIC, TURBINE


@formula
def telegraph(machine: Any, shaft: Any, time: float) -> None:
    """Pass the order on when the delay between bridge and engine is over."""
    if shaft.order_speed != shaft.pending_speed or shaft.order_pitch != shaft.pending_pitch:
        shaft.pending_speed = shaft.order_speed
        shaft.pending_pitch = shaft.order_pitch
        shaft.due = time + machine.delay
    if time >= shaft.due:
        shaft.active_speed = shaft.pending_speed
        shaft.active_pitch = shaft.pending_pitch


@formula
def torque_at(fleet: Any, run: int, index: int, turning: float, pitch: float, inflow: float, density: float) -> Real:
    """Torque the screw takes; negative when the water drives it. [N m]"""
    screw = fleet.propellers[run, index]
    beta = propeller.advance_angle(inflow, turning, screw.diameter)
    star = propeller.read_pitched(fleet.torque, fleet.pitches, int(screw.row), int(screw.rows), pitch, beta)
    return propeller.torque(star, inflow, turning, screw.diameter, density)


@formula
def torque_limit(machine: Any, turning: float) -> Real:
    """Greatest torque of this engine at a shaft speed, either way. [N m]"""
    full = machine.full_torque if turning >= 0.0 else machine.astern_torque
    if machine.kind == ELECTRIC:
        return full
    return engine.diesel_torque(turning, machine.full_speed, full)


@formula
def towards(machine: Any, speed: float, target: float, interval: float) -> Real:
    """Shaft speed after a step of ramping. [1/s]"""
    rate = machine.fall
    if np.abs(target) > np.abs(speed) and target * speed >= 0.0:
        rate = machine.ramp if np.abs(speed) < machine.manoeuvring_speed else machine.sea_ramp
    if np.isinf(rate):
        return target
    return engine.ramped(speed, target, rate * interval)


@formula
def held(fleet: Any, run: int, index: int, target: float, pitch: float, inflow: float, density: float) -> Real:
    """The part of an ordered shaft speed the engine's torque allows. [1/s]"""
    machine = fleet.engines[run, index]
    limit = torque_limit(machine, target)
    if np.isinf(limit) or target == 0.0:
        return target
    for _ in range(2):
        taken = torque_at(fleet, run, index, target, pitch, inflow, density)
        if taken * target > 0.0:
            target = engine.held_by_torque(target, taken, torque_limit(machine, target))
    return target


@formula
def fuel(machine: Any, shaft: Any, target: float, interval: float) -> None:
    """Decide whether the engine runs, and which way: fuel cut, waiting for the shaft to slow, starting on air or
    clutch."""
    way = np.sign(target)
    if way == 0.0 or shaft.running * way < 0.0:
        shaft.running = 0.0
    if way == 0.0:
        shaft.waited = 0.0
        return
    if shaft.running != 0.0:
        return
    if shaft.speed * way > machine.start_speed:
        shaft.running = way
    elif np.abs(shaft.speed) <= machine.start_speed:
        shaft.waited += interval
        if shaft.waited < machine.start_time:
            return
        shaft.waited = 0.0
        if machine.kind == DIRECT:
            if shaft.starts < 1.0:
                shaft.failed_starts += 1.0
                return
            shaft.starts -= 1.0
        shaft.running = way


@formula
def reversing(fleet: Any, run: int, index: int, shaft: Any, inflow: float, density: float, interval: float) -> None:
    """Shaft of an engine that must stop before it turns the other way."""
    machine = fleet.engines[run, index]
    screw = fleet.propellers[run, index]
    target = shaft.active_speed
    fuel(machine, shaft, target, interval)
    if shaft.running != 0.0:
        least = np.sign(target) * machine.least_speed
        if np.abs(target) < machine.least_speed:
            target = least
        if np.abs(shaft.speed) < machine.least_speed or shaft.speed * target < 0.0:
            shaft.speed = towards(machine, shaft.speed, least, interval)
        else:
            allowed = held(fleet, run, index, target, shaft.pitch, inflow, density)
            shaft.speed = towards(machine, shaft.speed, allowed, interval)
    else:
        free = engine.windmilling_speed(inflow, machine.zero_torque, screw.diameter, machine.stick_speed)
        if shaft.waited > 0.0:
            free = 0.0
        shaft.speed = free + (shaft.speed - free) * np.exp(-interval / machine.spin_down)


@formula
def pitching(fleet: Any, run: int, index: int, shaft: Any, inflow: float, density: float, interval: float) -> None:
    """Shaft that keeps its hand and turns its blades; overload takes pitch off."""
    machine = fleet.engines[run, index]
    shaft.speed = towards(machine, shaft.speed, shaft.active_speed, interval)
    taken = np.abs(torque_at(fleet, run, index, shaft.speed, shaft.active_pitch, inflow, density))
    limit = torque_limit(machine, shaft.speed)
    wanted = shaft.active_pitch
    if taken > limit:
        wanted *= max(limit / taken, 0.3)
    shaft.pitch = engine.ramped(shaft.pitch, wanted, machine.pitch_rate * interval)


@formula
def drive(
    fleet: Any, run: int, index: int, shaft: Any, inflow: float, density: float, time: float, interval: float
) -> None:
    """One step of one shaft, from the order on the telegraph to speed and pitch at the end of the step.

    `inflow` is the speed of advance at the beginning of the step [m/s].
    """
    machine = fleet.engines[run, index]
    telegraph(machine, shaft, time)
    shaft.speed_before = shaft.speed
    shaft.pitch_before = shaft.pitch
    if machine.kind == CONTROLLABLE:
        pitching(fleet, run, index, shaft, inflow, density, interval)
    elif machine.kind == ELECTRIC or machine.kind == TURBINE:
        allowed = held(fleet, run, index, shaft.active_speed, shaft.pitch, inflow, density)
        shaft.speed = towards(machine, shaft.speed, allowed, interval)
        shaft.running = np.sign(shaft.active_speed)
    else:
        reversing(fleet, run, index, shaft, inflow, density, interval)
    shaft.torque = torque_at(fleet, run, index, shaft.speed, shaft.pitch, inflow, density)
    if shaft.speed * shaft.pitch < 0.0:
        shaft.time_astern += interval
    shaft.starts = min(shaft.starts + interval / machine.recharge, max(machine.starts, shaft.starts))


@formula
def steer(fleet: Any, run: int, index: int, helm: Any, interval: float) -> None:
    """One step of one rudder or pod towards its order."""
    blade = fleet.rudders[run, index]
    helm.angle_before = helm.angle
    wanted = min(max(helm.order, -blade.greatest_angle), blade.greatest_angle)
    helm.angle = engine.ramped(helm.angle, wanted, blade.rate * interval)
