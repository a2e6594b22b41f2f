"""The crankshaft in time: starter, friction and combustion, and when an engine fires."""

import math

from loomwright.starting.car_now import CarNow
from loomwright.starting.engine import heater_need_c, starter_current_a

__all__ = ["move", "settle"]

_GOVERN_PER_S = 8.0
"""How quickly an idle governor closes a difference of speed [1/s]: common practice, settled within half a second."""


def move(car: CarNow, dt: float, *, engaged: bool, live: bool) -> bool:
    """Move the crankshaft on by a midpoint step of `dt` [s], and tell whether the engine has fired in it.

    J dw/dt = k (I - I_loss) + combustion - friction, with the starter's current taken at the middle of the step.

    Parameters
    ----------
    car
        Whose speed and combustion change.
    dt
        The step [s].
    engaged
        Whether the starter turns.
    live
        Whether the engine's computer is alive.
    """
    m = car.machine

    def torque(speed: float, motor_a: float) -> float:
        drive = m.k_v_s * (motor_a - m.loss_a) if engaged and motor_a > 0.0 else 0.0
        burn = 0.0
        if car.combusts:
            burn = max(m.friction_nm(speed) + _GOVERN_PER_S * m.inertia_kg_m2 * (car.goal - speed), 0.0)
        drag = m.friction_nm(speed) if speed > 0.0 else min(m.friction_nm(0.0), max(drive, 0.0))
        return max(drive, 0.0) + burn - drag

    half = max(car.speed + 0.5 * dt * torque(car.speed, car.starter_a) / m.inertia_kg_m2, 0.0)
    middle = starter_current_a(m, car.battery_v, half) if engaged else 0.0
    new = max(car.speed + dt * torque(half, middle) / m.inertia_kg_m2, 0.0) if half > 0.0 else 0.0
    fires = False
    if not live:
        car.combusts = False
    able = live and bool(car.world["fuel"]) and engaged and new >= m.least_rad_s
    if able and (m.heater is None or car.heater_c >= heater_need_c(m.temperature_c)):
        car.cranked_s += dt
        if car.cranked_s >= m.fire_s and not car.combusts:
            car.combusts = fires = True
            car.running_since_s = car.time_s
    elif not engaged:
        car.cranked_s = 0.0
    car.speed = new
    return fires


def settle(car: CarNow, dt: float, *, live: bool) -> None:
    """Move an engine that is left alone: under its governor the speed closes in on its goal exponentially."""
    if not live or not car.combusts:
        car.combusts = False
        return
    car.speed = car.goal + (car.speed - car.goal) * math.exp(-_GOVERN_PER_S * dt)
