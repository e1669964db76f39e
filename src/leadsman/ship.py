"""The ship as handed over on her card, and how she floats today. No physics: only what is impossible about her.

Fields follow the pilot card of IMO Resolution A.601(15), appendix 1 (layout from memory). All SI; `None` means the card
does not say. Orders are named as on the card.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from leadsman.equipment import Anchors, Engine, Propeller, Rudder, State, Steering, Thruster
from leadsman.errors import number_problems, refuse
from leadsman.poster import Poster


class ShipType(StrEnum):
    """Kinds of ship, as far as form and windage differ."""

    COASTER = "coaster"
    GENERAL_CARGO = "general_cargo"
    BULK_CARRIER = "bulk_carrier"
    TANKER = "tanker"
    CONTAINER = "container"
    GAS_CARRIER = "gas_carrier"
    RO_RO = "ro_ro"
    CAR_CARRIER = "car_carrier"
    FERRY = "ferry"
    CRUISE = "cruise"
    TUG = "tug"
    OTHER = "other"




@dataclass(frozen=True, kw_only=True)
class Ship:
    """A ship that can exist. Estimates of what the card leaves out are made elsewhere."""

    name: str
    kind: ShipType
    length_overall: float
    beam: float
    engine: Engine
    call_sign: str = ""
    year_built: int | None = None
    gross_tonnage: float | None = None
    net_tonnage: float | None = None
    deadweight: float | None = None
    """At the summer draught. [kg]"""
    lightship: float | None = None
    length_between_perpendiculars: float | None = None
    moulded_depth: float | None = None
    summer_draught: float | None = None
    summer_displacement: float | None = None
    summer_block_coefficient: float | None = None
    """As printed on the poster. [-]"""
    bulbous_bow: bool | None = None
    bridge_to_bow: float | None = None
    bridge_to_stern: float | None = None
    keel_to_highest_point: float | None = None
    mast_from_stern: float | None = None
    """Where the highest point stands, from the stern. [m]"""
    parallel_body_loaded: float | None = None
    parallel_body_ballast: float | None = None
    propellers: tuple[Propeller, ...] = ()
    rudders: tuple[Rudder, ...] = ()
    steering: Steering = field(default_factory=Steering)
    thrusters: tuple[Thruster, ...] = ()
    anchors: Anchors = field(default_factory=Anchors)
    equipment: dict[str, State] = field(default_factory=dict)
    """What was checked aboard: item of the card to state."""
    equipment_details: dict[str, str] = field(default_factory=dict)
    """What the card adds to an item, such as `doppler, dual axis` for the speed log."""
    gyro_error: float | None = None
    """Constant error, high positive. [rad]"""
    poster: Poster = field(default_factory=Poster)
    defects: tuple[str, ...] = ()
    remarks: str = ""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from number_problems(
            self,
            positive=[
                "length_overall",
                "beam",
                "gross_tonnage",
                "net_tonnage",
                "deadweight",
                "lightship",
                "summer_displacement",
                "summer_block_coefficient",
                "length_between_perpendiculars",
                "moulded_depth",
                "summer_draught",
                "bridge_to_bow",
                "bridge_to_stern",
                "keel_to_highest_point",
                "parallel_body_loaded",
                "parallel_body_ballast",
            ],
            other=("mast_from_stern", "gyro_error"),
        )
        if not self.name.strip():
            yield "name", "is empty; expected the ship's name"
        if not 5.0 <= self.length_overall <= 500.0:
            yield "length_overall", f"{self.length_overall:.4g} m is no ship's length; expected metres, 5 to 500"
        if not self.beam < 0.5 * self.length_overall:
            yield (
                "beam",
                f"{self.beam:.4g} m is more than half her length, {self.length_overall:.4g} m; expected metres",
            )
        perpendiculars = self.length_between_perpendiculars
        if perpendiculars is not None and perpendiculars > self.length_overall:
            yield (
                "length_between_perpendiculars",
                f"{perpendiculars:.4g} m is longer than length overall, {self.length_overall:.4g} m; expected metres",
            )
        if self.mast_from_stern is not None and not 0.0 <= self.mast_from_stern <= self.length_overall:
            yield (
                "mast_from_stern",
                f"{self.mast_from_stern:.4g} m lies outside the ship; expected metres from the stern",
            )


@dataclass(frozen=True, kw_only=True)
class OwnFigure:
    """What the handler knows better than card and estimate, in SI, and where she has it from in her own words."""

    value: float
    source: str = ""

    def __post_init__(self) -> None:
        refuse(number_problems(self, other=("value",)))


@dataclass(frozen=True, kw_only=True)
class Loading:
    """How she floats today."""

    condition: str
    """`loaded` or `ballast`: which column of the engine order table holds."""
    draught_forward: float
    draught_aft: float
    displacement: float | None = None
    water_density: float | None = None
    """Of the water the draughts were read in. [kg/m³]"""
    air_draught: float | None = None
    """As stated on the card for this loading. [m]"""
    metacentric_height: float | None = None
    centre_of_gravity_height: float | None = None
    list_angle: float | None = None
    lateral_windage: float | None = None
    frontal_windage: float | None = None
    draught_midships_port: float | None = None
    draught_midships_starboard: float | None = None
    deadweight: float | None = None
    """Aboard now: cargo, fuel, water, ballast, stores, people. [kg]"""
    draught_forward_imperial: float | None = None
    """The feet and inches written beside the metres, brought to metres; the two are compared, never mixed. [m]"""
    draught_aft_imperial: float | None = None
    air_draught_imperial: float | None = None
    boarding_height: float | None = None
    """From the water to where the pilot steps aboard. [m]"""
    combination_ladder: bool | None = None
    """Whether an accommodation ladder is rigged together with the pilot ladder."""
    own_figures: Mapping[str, OwnFigure] = field(default_factory=dict)
    """Particulars overruled by the handler, by the names of `assessment.estimates`; the card itself stays as it is."""

    def __post_init__(self) -> None:
        refuse(self._problems())

    def _problems(self) -> Iterator[tuple[str, str]]:
        yield from number_problems(
            self,
            positive=[
                "draught_forward",
                "draught_aft",
                "displacement",
                "water_density",
                "air_draught",
                "lateral_windage",
                "frontal_windage",
                "draught_midships_port",
                "draught_midships_starboard",
                "centre_of_gravity_height",
                "deadweight",
                "draught_forward_imperial",
                "draught_aft_imperial",
                "air_draught_imperial",
                "boarding_height",
            ],
            other=("metacentric_height", "list_angle"),
        )
        if self.condition not in ("loaded", "ballast"):
            yield "condition", f"'{self.condition}' is no condition of the card; expected loaded or ballast"
        if self.water_density is not None and not 990.0 <= self.water_density <= 1050.0:
            yield "water_density", f"{self.water_density:.4g} is no water; expected kg/m³, 990 to 1050"
        if self.metacentric_height is not None and self.metacentric_height <= 0.0:
            yield "metacentric_height", f"{self.metacentric_height:.3g} m: she would not float upright"

    def knowing(self, figures: Mapping[str, OwnFigure]) -> "Loading":
        """The same with more own figures, which take the place of those of the same name."""
        return replace(self, own_figures={**self.own_figures, **figures})

    @property
    def draught(self) -> float:
        """The deeper of the two ends. [m]"""
        return max(self.draught_forward, self.draught_aft)

    @property
    def mean_draught(self) -> float:
        """Mean of the ends. [m]"""
        return 0.5 * (self.draught_forward + self.draught_aft)

    @property
    def trim(self) -> float:
        """Positive by the stern. [m]"""
        return self.draught_aft - self.draught_forward


def contradictions(ship: Ship, loading: Loading) -> Iterator[tuple[str, str]]:
    """What cannot be true of this ship in this loading, as (field of the loading, sentence)."""
    for name in ("draught_forward", "draught_aft"):
        draught = getattr(loading, name)
        if ship.moulded_depth is not None and draught >= ship.moulded_depth:
            yield name, f"{draught:.4g} m is deeper than moulded_depth_m, {ship.moulded_depth:.4g}; expected metres"
        elif draught > 30.0 or draught > 0.5 * ship.length_overall:
            yield name, f"{draught:.4g} m is deeper than any ship of her length floats; expected metres"
    if loading.displacement is not None:
        box = ship.length_overall * ship.beam * loading.draught * 1050.0
        if loading.displacement > box:
            yield (
                "displacement",
                f"{loading.displacement / 1000.0:.0f} t is more than a box of her length, beam and draught displaces, "
                f"{box / 1000.0:.0f} t; expected tonnes",
            )
    if ship.keel_to_highest_point is not None and ship.keel_to_highest_point <= loading.draught:
        yield "draught_aft", "she is drawn deeper than her highest point; expected metres"
    own = loading.own_figures.get("length_between_perpendiculars")
    if own is not None and own.value > ship.length_overall:
        yield (
            "length_between_perpendiculars",
            f"the own figure, {own.value:.4g} m, is longer than length overall, {ship.length_overall:.4g} m; "
            "expected metres",
        )
