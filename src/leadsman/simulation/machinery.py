"""Engines and steering gear, once a step: what is ordered becomes shaft speed, pitch and rudder angle. Compiled
formulas."""

from typing import Any

import numpy as np

from leadsman.compiled import Real, formula
from leadsman.physics import engine, propeller
from leadsman.physics.engine import CONTROLLABLE, DIRECT, ELECTRIC, TURBINE
from leadsman.simulation.state import DEAD, STUCK


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
def torque_at(screw: Any, tables: Any, inflow: float, turning: float, pitch: float, density: float) -> Real:
    """Torque the screw takes at a speed of advance; negative when the water drives it. [N m]"""
    beta = propeller.advance_angle(inflow, turning, screw.diameter)
    star = propeller.read_pitched(tables.torque, tables.pitches, int(screw.row), int(screw.rows), pitch, beta)
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
def held(machine: Any, screw: Any, shaft: Any, tables: Any, target: float, density: float) -> Real:
    """The part of an ordered shaft speed the engine's torque allows. [1/s]"""
    limit = torque_limit(machine, target)
    if np.isinf(limit) or target == 0.0:
        return target
    for _ in range(2):
        taken = torque_at(screw, tables, shaft.advance, target, shaft.pitch, density)
        if taken * target > 0.0:
            target = engine.held_by_torque(target, taken, torque_limit(machine, target))
    return target


@formula
def fuel(machine: Any, shaft: Any, target: float, interval: float) -> None:
    """Decide whether the engine runs, and which way: fuel cut, waiting for the shaft to slow, starting on air or
    clutch.

    `waited` runs from below nothing while the engine is made ready to turn the other way, whatever the shaft does
    meanwhile; from nothing on it is the start itself, which the shaft must be slow enough for.
    """
    way = np.sign(target)
    if shaft.running * way < 0.0:
        shaft.waited = min(machine.start_time - machine.reverse_time, 0.0)
        shaft.running = 0.0
    if way == 0.0:
        shaft.waited = 0.0
        shaft.running = 0.0
        return
    if shaft.running != 0.0:
        return
    if shaft.waited < 0.0:
        shaft.waited = min(shaft.waited + interval, 0.0)
    elif shaft.speed * way > machine.start_speed:
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
            shaft.starts_made += 1.0
        shaft.running = way


@formula
def run_free(machine: Any, screw: Any, shaft: Any, interval: float) -> None:
    """A shaft without power goes to the speed the water turns it at, or is held while braking air is on it."""
    free = engine.windmilling_speed(shaft.advance, machine.zero_torque, screw.diameter, machine.stick_speed)
    if shaft.waited > 0.0:
        free = 0.0
    shaft.speed = free + (shaft.speed - free) * np.exp(-interval / machine.spin_down)


@formula
def reversing(machine: Any, screw: Any, shaft: Any, tables: Any, density: float, interval: float) -> None:
    """Shaft of an engine that must stop before it turns the other way."""
    target = shaft.active_speed
    fuel(machine, shaft, target, interval)
    if shaft.running != 0.0:
        least = np.sign(target) * machine.least_speed
        if np.abs(target) < machine.least_speed:
            target = least
        if np.abs(shaft.speed) < machine.least_speed or shaft.speed * target < 0.0:
            # The first turns come on starting air or clutch, faster than the fuel ramp.
            shaft.speed = engine.ramped(shaft.speed, least, machine.fall * interval)
        else:
            allowed = held(machine, screw, shaft, tables, target, density)
            shaft.speed = towards(machine, shaft.speed, allowed, interval)
    else:
        run_free(machine, screw, shaft, interval)


@formula
def pitching(machine: Any, screw: Any, shaft: Any, tables: Any, density: float, interval: float) -> None:
    """Shaft that keeps its hand and turns its blades; overload takes pitch off."""
    shaft.speed = towards(machine, shaft.speed, shaft.active_speed, interval)
    taken = np.abs(torque_at(screw, tables, shaft.advance, shaft.speed, shaft.active_pitch, density))
    limit = torque_limit(machine, shaft.speed)
    wanted = shaft.active_pitch
    if taken > limit:
        wanted *= max(limit / taken, 0.3)
    shaft.pitch = engine.ramped(shaft.pitch, wanted, machine.pitch_rate * interval)


@formula
def drive(machine: Any, screw: Any, shaft: Any, tables: Any, density: float, time: float, interval: float) -> None:
    """One step of one shaft, from the order on the telegraph to speed and pitch at the end of the step."""
    telegraph(machine, shaft, time)
    shaft.speed_before = shaft.speed
    shaft.pitch_before = shaft.pitch
    if shaft.fault == DEAD:
        shaft.running = 0.0
        shaft.waited = 0.0
        run_free(machine, screw, shaft, interval)
    elif shaft.fault == STUCK:
        pass
    elif machine.kind == CONTROLLABLE:
        pitching(machine, screw, shaft, tables, density, interval)
    elif machine.kind == ELECTRIC or machine.kind == TURBINE:
        allowed = held(machine, screw, shaft, tables, shaft.active_speed, density)
        shaft.speed = towards(machine, shaft.speed, allowed, interval)
        shaft.running = np.sign(shaft.active_speed)
    else:
        reversing(machine, screw, shaft, tables, density, interval)
    shaft.torque = torque_at(screw, tables, shaft.advance, shaft.speed, shaft.pitch, density)
    shaft.starts = min(shaft.starts + interval / machine.recharge, max(machine.starts, shaft.starts))


@formula
def steer(blade: Any, helm: Any, interval: float) -> None:
    """One step of one rudder or pod towards its order; with a fault it stays where it is."""
    helm.angle_before = helm.angle
    if helm.fault > 0.0:
        return
    wanted = min(max(helm.order, -blade.greatest_angle), blade.greatest_angle)
    helm.angle = engine.ramped(helm.angle, wanted, blade.rate * interval)
