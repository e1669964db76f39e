"""Constants and conversions. Inside the package all is SI and radians; conversion happens at the edges only."""

import math

KNOT = 1852.0 / 3600.0  # m/s, exact: international nautical mile (BIPM SI Brochure, 9th ed., table 8) per hour
NAUTICAL_MILE = 1852.0  # m, exact (BIPM SI Brochure)
CABLE = 185.2  # m, one tenth of the international nautical mile
FOOT = 0.3048  # m, exact (international foot, 1959)
INCH = 0.0254  # m, exact
YARD = 0.9144  # m, exact
FATHOM = 1.8288  # m, exact: six feet
SHACKLE = 27.432  # m, exact: fifteen fathoms; class chain is made in lengths of 27.5 m
METRIC_HORSEPOWER = 735.49875  # W: 75 kgf m/s
MECHANICAL_HORSEPOWER = 745.699872  # W: 550 ft lbf/s
TONNE = 1000.0  # kg, exact
LONG_TON = 1016.0469088  # kg, exact: 2240 lb
TONNE_FORCE = 9806.65  # N, exact by standard gravity
GRAVITY = 9.81  # m/s²: the value of every squat and wave example in the literature used here
STANDARD_GRAVITY = 9.80665  # m/s², exact by definition (3rd CGPM, 1901)
SEA_WATER_DENSITY = 1025.0  # kg/m³, the trade's standard sea water (load lines, FWA)
FRESH_WATER_DENSITY = 1000.0  # kg/m³
AIR_DENSITY = 1.225  # kg/m³, ICAO standard atmosphere at sea level, 15 °C
HOUR = 3600.0  # s
DAY = 86400.0  # s
MINUTE = 60.0  # s
RPM = 1.0 / 60.0  # revolutions per second
DEGREE = math.pi / 180.0  # rad


def wrapped(angle: float) -> float:
    """Angle brought into [0, 2 pi). [rad]"""
    return angle % (2.0 * math.pi)


def signed(angle: float) -> float:
    """Angle brought into [-pi, pi): the short way round. [rad]"""
    return (angle + math.pi) % (2.0 * math.pi) - math.pi
