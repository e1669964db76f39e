"""The side a ship shows to the wind, from the few heights a card gives: hull, house and what stands on deck.

Three rectangles stand for her: the hull above water over her whole length, the deckhouse, and containers or decks above
the hull. No published regression could be confirmed for areas from a card; this is geometry, within about 15 % where
the heights are known.
"""

from typing import NamedTuple

import numpy as np

from leadsman.compiled import Real, formula


class Profile(NamedTuple):
    """Areas above water [m²]; centroid above the water and forward of midships [m]."""

    lateral: Real
    frontal: Real
    centroid_height: Real
    centroid_forward: Real


@formula
def house_height(air_draught: Real, mast: Real, freeboard: Real) -> Real:
    """Height of the deckhouse above the deck: what is left of the air draught below the mast. [m]

    Source: [CardWindage], tool default of 8 m for the mast. Limits: never below nought.
    """
    return np.maximum(air_draught - mast - freeboard, 0.0)


@formula
def rectangles(
    length: Real,
    beam: Real,
    freeboard: Real,
    house_length: Real,
    house_height: Real,
    house_forward: Real,
    stack_length: Real,
    stack_height: Real,
) -> Profile:
    """Areas and centroid of hull, house and stack.

    Parameters
    ----------
    length, beam : float or array
        Overall. [m]
    freeboard : float or array
        Side of the hull above the water, at mean draught. [m]
    house_length, house_height, house_forward : float or array
        The house above the deck; how far its middle stands forward of midships. [m]
    stack_length, stack_height : float or array
        Containers or upper decks above the hull, amidships. [m]

    Where house and stack overlap along the ship, only the higher counts in the frontal area.
    Source: [CardWindage], geometry. Limits: within about 15 %.
    """
    hull, house, stack = length * freeboard, house_length * house_height, stack_length * stack_height
    lateral = hull + house + stack
    height = (
        hull * 0.5 * freeboard + house * (freeboard + 0.5 * house_height) + stack * (freeboard + 0.5 * stack_height)
    ) / lateral
    tops = np.maximum(0.9 * house_height, stack_height)
    return Profile(
        lateral=lateral,
        frontal=beam * (freeboard + tops),
        centroid_height=height,
        centroid_forward=house * house_forward / lateral,
    )
