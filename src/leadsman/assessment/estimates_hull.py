"""The hull the formulas see: lengths, form coefficients, wetted surface, stability, added masses, windage."""

import math
from collections.abc import Mapping

from leadsman import format as text
from leadsman.assessment.card_equipment import mast_height
from leadsman.assessment.estimate import (
    Estimate,
    Known,
    Missing,
    Worked,
    always,
    computed,
    estimated,
    given,
    of_range,
)
from leadsman.assessment.plausibility import middle
from leadsman.figure import Figure
from leadsman.physics import form, hull_added_mass, profile, resistance
from leadsman.physics.profile import Profile
from leadsman.units import AIR_DENSITY, DEGREE, GRAVITY, KNOT, SEA_WATER_DENSITY

GYRATION = {"loaded": 0.245, "ballast": 0.255}  # of the length, yaw radius of gyration: manoeuvring sheet 3.4, memory
BULB = 0.10  # of the midship section, area of a bulb: manoeuvring sheet 5, memory

Figures = Mapping[str, Figure]


def length_between_perpendiculars(known: Known) -> Worked:
    """As given; else the share of length overall usual for her type."""
    ship = known.ship
    stated = given(ship.length_between_perpendiculars, "length_between_perpendiculars")
    if stated is not None:
        return stated
    bounds = (0.93, 0.98) if known.usual is None else known.usual.perpendiculars
    return of_range(bounds, ship.length_overall, f"{middle(bounds):.3f} x length overall, usual for her type")


def summer_block_coefficient(known: Known) -> Worked:
    """As given or from the summer displacement; else from today's displacement; else usual for her type."""
    ship = known.ship
    summer = ship.summer_displacement
    if summer is None and ship.lightship is not None and ship.deadweight is not None:
        summer = ship.lightship + ship.deadweight
    if summer is not None and ship.summer_draught is not None:
        length = known.value("length_between_perpendiculars")
        block = form.block_coefficient(summer / SEA_WATER_DENSITY, length, ship.beam, ship.summer_draught)
        return computed(block, "summer displacement / (density x length x beam x draught)", "CardIdentities", 0.004)
    stated = given(ship.summer_block_coefficient, "summer_block_coefficient", 0.005)
    if stated is not None:
        return stated
    if known.fullness_known:
        return _summer_from_today(known, known.value("displacement"))
    return of_range(known.typical.block, 1.0, "usual for her type")


def _summer_from_today(known: Known, displacement: float) -> Worked:
    """The block coefficient at the summer draught that gives today's at today's draught."""
    draught, summer = known.value("mean_draught"), known.value("summer_draught")
    volume = displacement / known.value("water_density")
    today = float(
        form.block_coefficient(volume, known.value("length_between_perpendiculars"), known.ship.beam, draught)
    )
    low, high = 0.30, 0.98
    for _ in range(40):  # halving: the law rises with the summer value
        half = 0.5 * (low + high)
        found = form.block_at_draught(half, form.waterplane_one_third(half), summer, draught)
        low, high = (half, high) if found < today else (low, half)
    method = "today's displacement brought to the summer draught"
    return estimated(0.5 * (low + high), method, "DerivedForm", 0.008 + 0.03 * abs(1.0 - draught / summer))


def block_coefficient(known: Known) -> Worked:
    """At today's draught, from the displacement."""
    volume = known.value("displacement") / known.value("water_density")
    length, draught = known.value("length_between_perpendiculars"), known.value("mean_draught")
    found = form.block_coefficient(volume, length, known.ship.beam, draught)
    return computed(found, "displacement / (density x length x beam x mean draught)", "CardIdentities")


def waterplane_coefficient(known: Known) -> Worked:
    """At today's draught: (1 + 2 C_B)/3 at the summer draught, and the draught law."""
    summer = known.value("summer_block_coefficient")
    plane = form.waterplane_one_third(summer)
    ratio = known.value("mean_draught") / known.value("summer_draught")
    found = min(1.0, float(plane * ratio ** (plane / summer - 1.0)))
    return estimated(found, "(1 + 2 C_B)/3 at the summer draught, brought to today's", "SchneekluthBertram1998", 0.02)


def midship_coefficient(known: Known) -> Worked:
    """At today's draught: the bilge keeps its size."""
    full = float(form.midship_kerlen(known.value("summer_block_coefficient")))
    found = max(0.5, 1.0 - (1.0 - full) * known.value("summer_draught") / known.value("mean_draught"))
    return estimated(found, "from the block coefficient; the bilge keeps its size", "Kerlen1970", 0.006)


def wetted_surface(known: Known) -> Worked:
    """Hull and bulb at today's draught."""
    draught, beam = known.value("mean_draught"), known.ship.beam
    midship = known.value("midship_coefficient")
    bulb = BULB * beam * draught * midship if known.ship.bulbous_bow else 0.0
    found = resistance.holtrop_surface(
        known.value("length_between_perpendiculars"),
        beam,
        draught,
        known.value("block_coefficient"),
        midship,
        known.value("waterplane_coefficient"),
        bulb,
    )
    return estimated(
        found, "Holtrop and Mennen, bulb a tenth of the midship section", "HoltropMennen1982", 0.02 * found
    )


def centre_of_buoyancy_height(known: Known) -> Worked:
    """Above the keel."""
    found = form.centre_of_buoyancy(
        known.value("mean_draught"), known.value("block_coefficient"), known.value("waterplane_coefficient")
    )
    return estimated(found, "Morrish", "Morrish1892", 0.015 * found)


def metacentre_height(known: Known) -> Worked:
    """KM: of the metacentre above the keel."""
    radius = form.metacentric_radius(
        known.ship.beam,
        known.value("mean_draught"),
        known.value("block_coefficient"),
        known.value("waterplane_coefficient"),
    )
    found = known.value("centre_of_buoyancy_height") + radius
    return estimated(found, "KB and BM by the waterplane coefficient", "SchneekluthBertram1998", 0.04 * radius)


def metacentric_height(known: Known) -> Worked:
    """As given; else by the centre of gravity given; else usual for type and condition."""
    loading = known.loading
    stated = given(loading.metacentric_height, "metacentric_height", 0.1 * (loading.metacentric_height or 0.0))
    if stated is not None:
        return stated
    if loading.centre_of_gravity_height is not None:
        found = known.value("metacentre_height") - loading.centre_of_gravity_height
        if found > 0.0:
            return estimated(found, "height of the metacentre less the centre of gravity", "DerivedForm", 0.1)
    usual = known.typical
    bounds = usual.stability_loaded if loading.condition == "loaded" else usual.stability_ballast
    return of_range(bounds, known.ship.beam, "share of the beam usual for her type and condition")


def centre_of_gravity_height(known: Known) -> Worked:
    """As given; else the metacentre less the metacentric height."""
    stated = given(known.loading.centre_of_gravity_height, "centre_of_gravity_height", 0.1)
    if stated is not None:
        return stated
    found = known.value("metacentre_height") - known.value("metacentric_height")
    if found <= 0.0:
        raise Missing("centre_of_gravity_height")
    return estimated(found, "height of the metacentre less the metacentric height", "DerivedForm", 0.0)


def roll_period(known: Known) -> Worked:
    """Natural period."""
    height = known.value("metacentric_height")
    found = form.roll_period(
        known.value("length_between_perpendiculars"), known.ship.beam, known.value("mean_draught"), height
    )
    return estimated(found, "2 c B / sqrt(GM), c of the weather criterion", "ISCode2008", 0.07 * found)


def _added(known: Known) -> hull_added_mass.AddedMass:
    return hull_added_mass.zhou(
        known.value("length_between_perpendiculars"),
        known.ship.beam,
        known.value("mean_draught"),
        known.value("block_coefficient"),
    )


def surge_added_mass(known: Known) -> Worked:
    """Along, deep water."""
    found = _added(known).surge * known.value("displacement")
    return estimated(found, "regression of Motora's charts", "Zhou1983", 0.20 * abs(found))


def sway_added_mass(known: Known) -> Worked:
    """Across, deep water."""
    found = _added(known).sway * known.value("displacement")
    return estimated(found, "regression of Motora's charts", "Zhou1983", 0.10 * abs(found))


def yaw_added_inertia(known: Known) -> Worked:
    """Turning, deep water."""
    length = known.value("length_between_perpendiculars")
    found = _added(known).yaw * known.value("displacement") * length**2
    return estimated(found, "regression of Motora's charts", "Zhou1983", 0.15 * abs(found))


def yaw_inertia(known: Known) -> Worked:
    """Of the ship herself."""
    share = GYRATION[known.loading.condition]
    found = known.value("displacement") * (share * known.value("length_between_perpendiculars")) ** 2
    return estimated(found, f"radius of gyration {share:.3f} of the length", "CardPractice", 0.06 * found)


def moulded_depth(known: Known) -> Worked:
    """As given; else the multiple of the summer draught usual for her type."""
    stated = given(known.ship.moulded_depth, "moulded_depth")
    if stated is not None:
        return stated
    draught = known.value("summer_draught")
    return of_range(known.typical.depth, draught, "multiple of the summer draught usual for her type")


def air_draught(known: Known) -> Worked:
    """Keel to highest point less the draught at the mast; else as stated."""
    ship, loading = known.ship, known.loading
    if ship.keel_to_highest_point is None:
        stated = given(loading.air_draught, "air_draught", 0.5)
        if stated is None:
            raise Missing("air_draught")
        return stated
    forward, aft = known.value("draught_forward"), known.value("draught_aft")
    if ship.mast_from_stern is None:
        at_mast = min(forward, aft)
        method = "keel to highest point less the lesser draught: where the mast stands is not known"
    else:
        at_mast = float(form.draught_along(aft, forward, ship.mast_from_stern / ship.length_overall))
        method = "keel to highest point less draught at the mast"
    return computed(ship.keel_to_highest_point - at_mast, method, "CardIdentities")


def _profile(known: Known) -> Profile:
    """Hull, house and stack as the card's heights and her type give them."""
    ship, usual = known.ship, known.typical
    freeboard = max(known.value("moulded_depth") - known.value("mean_draught"), 0.5)
    house_share, house_place = usual.house
    top = known.tried("air_draught")
    if top is None:
        raise Missing("air_draught")
    house = profile.house_height(top, mast_height(ship.length_overall), freeboard)
    stack = 0.8 * ship.length_overall if usual.stack else 0.0
    return profile.rectangles(
        ship.length_overall,
        ship.beam,
        freeboard,
        house_share * ship.length_overall,
        house,
        house_place * ship.length_overall,
        stack,
        min(usual.stack, float(house)) if usual.stack else 0.0,
    )


def _profile_share(known: Known) -> float:
    return 0.12 if known.ship.moulded_depth is not None else 0.20


def lateral_windage(known: Known) -> Worked:
    """As given; else hull, house and stack."""
    stated = given(known.loading.lateral_windage, "lateral_windage", 0.03 * (known.loading.lateral_windage or 0.0))
    if stated is not None:
        return stated
    found = _profile(known).lateral
    return estimated(found, "rectangles of hull, house and stack", "CardWindage", _profile_share(known) * found)


def frontal_windage(known: Known) -> Worked:
    """As given; else beam times the heights of hull, house or stack."""
    stated = given(known.loading.frontal_windage, "frontal_windage", 0.03 * (known.loading.frontal_windage or 0.0))
    if stated is not None:
        return stated
    found = _profile(known).frontal
    return estimated(found, "beam times hull and house or stack", "CardWindage", _profile_share(known) * found)


def windage_height(known: Known) -> Worked:
    """Centroid above the water."""
    found = _profile(known).centroid_height
    return estimated(found, "rectangles of hull, house and stack", "CardWindage", 0.12 * found)


def windage_forward(known: Known) -> Worked:
    """Centroid forward of midships."""
    found = _profile(known).centroid_forward
    return estimated(found, "rectangles of hull, house and stack", "CardWindage", 0.03 * known.ship.length_overall)


def _length_means(figures: Figures) -> str:
    length = figures["length_between_perpendiculars"].value
    return f"Her turns scale with it: a tactical diameter within 5 lengths is within {text.metres(5.0 * length, 0)}."


def _block_means(figures: Figures) -> str:
    block = figures["block_coefficient"].value
    if block > 0.78:
        return "Full: she squats by the bow, is slow to begin a turn, slower to stop it, and carries her way long."
    if block > 0.68:
        return "Of middle fullness: she squats much on even keel and turns without surprises."
    return "Fine: she squats by the stern, answers quickly and checks well, but turns wide for her length."


def _stability_means(figures: Figures) -> str:
    gravity = figures.get("centre_of_gravity_height")
    if gravity is None:
        return "The smaller it is, the farther she heels in a turn and in the wind."
    lever = gravity.value - 0.5 * figures["mean_draught"].value
    heel = math.atan((10.0 * KNOT) ** 2 * lever / (GRAVITY * 400.0 * figures["metacentric_height"].value))
    turn = f"In a turn of {text.metres(400.0, 0)} radius at 10 kn she heels {heel / DEGREE:.1f}°"
    return f"{turn}, and her bilge goes deeper by it."


def _roll_means(figures: Figures) -> str:
    return f"A swell met every {figures['roll_period'].value:.0f} s sets her rolling; keep away from that period."


def _sway_means(figures: Figures) -> str:
    share = figures["sway_added_mass"].value / figures["displacement"].value
    return f"Moved sideways she drags {100.0 * share:.0f} % of her own mass in water with her; more when it is shallow."


def _surge_means(figures: Figures) -> str:
    share = figures["surge_added_mass"].value / figures["displacement"].value
    return f"When she stops, {100.0 * share:.0f} % of her mass in water has to be stopped with her."


def _air_means(figures: Figures) -> str:
    return f"Bridges lower than {text.metres(figures['air_draught'].value)} and her margin stop her."


def _wind_means(figures: Figures) -> str:
    force = 0.5 * AIR_DENSITY * (20.0 * KNOT) ** 2 * 0.9 * figures["lateral_windage"].value
    return f"A beam wind of 20 kn presses on her with about {text.pull(force)}, 30 kn with more than twice that."


def _centroid_means(figures: Figures) -> str:
    value = figures["windage_forward"].value
    if abs(value) < 1.0:
        return "The wind takes her amidships: stopped, she lies across it."
    where = f"{text.metres(abs(value), 0)} {'forward' if value > 0.0 else 'aft'} of midships"
    return (
        f"The wind takes her {where}: stopped, her "
        f"{'bow falls off' if value > 0.0 else 'stern falls off and her bow comes up'}."
    )


ESTIMATES = {
    "length_between_perpendiculars": Estimate(unit="m", function=length_between_perpendiculars, meaning=_length_means),
    "summer_block_coefficient": Estimate(
        unit="-", function=summer_block_coefficient, meaning=always("How full she is at her marks.")
    ),
    "block_coefficient": Estimate(unit="-", function=block_coefficient, meaning=_block_means),
    "waterplane_coefficient": Estimate(
        unit="-",
        function=waterplane_coefficient,
        meaning=always("How much of her outline the water's surface cuts: what draught and density changes go by."),
    ),
    "midship_coefficient": Estimate(
        unit="-", function=midship_coefficient, meaning=always("How much of a channel's section she fills amidships.")
    ),
    "wetted_surface": Estimate(
        unit="m²", function=wetted_surface, meaning=always("What friction holds on to when she coasts.")
    ),
    "centre_of_buoyancy_height": Estimate(
        unit="m", function=centre_of_buoyancy_height, meaning=always("Where the water holds her up.")
    ),
    "metacentre_height": Estimate(
        unit="m", function=metacentre_height, meaning=always("Her centre of gravity must stay below it.")
    ),
    "metacentric_height": Estimate(unit="m", function=metacentric_height, meaning=_stability_means),
    "centre_of_gravity_height": Estimate(
        unit="m",
        function=centre_of_gravity_height,
        meaning=always("The higher, the more she heels outward in a turn."),
    ),
    "roll_period": Estimate(unit="s", function=roll_period, meaning=_roll_means),
    "surge_added_mass": Estimate(unit="kg", function=surge_added_mass, meaning=_surge_means),
    "sway_added_mass": Estimate(unit="kg", function=sway_added_mass, meaning=_sway_means),
    "yaw_added_inertia": Estimate(
        unit="kg m²", function=yaw_added_inertia, meaning=always("Water that must be turned with her, and checked.")
    ),
    "yaw_inertia": Estimate(
        unit="kg m²", function=yaw_inertia, meaning=always("What the rudder must set turning, and stop turning.")
    ),
    "moulded_depth": Estimate(
        unit="m", function=moulded_depth, meaning=always("Less the draught it is the side she shows to wind and quay.")
    ),
    "air_draught": Estimate(
        unit="m",
        function=air_draught,
        meaning=_air_means,
    ),
    "lateral_windage": Estimate(unit="m²", function=lateral_windage, meaning=_wind_means),
    "frontal_windage": Estimate(
        unit="m²", function=frontal_windage, meaning=always("What a wind ahead slows and a wind astern drives.")
    ),
    "windage_height": Estimate(
        unit="m", function=windage_height, meaning=always("The lever by which a beam wind heels her.")
    ),
    "windage_forward": Estimate(unit="m", function=windage_forward, meaning=_centroid_means),
}
