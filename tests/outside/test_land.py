"""Places whose side of the coast anyone can look up in an atlas.

Source of every position: general geography, to a tenth of a degree or so.
"""

from __future__ import annotations

import numpy as np
import pytest

from pipeline.checking.land import MARGIN, on_land, outline

ON_LAND = {
    "Madrid": (40.4, -3.7),
    "Chicago, west of the city": (41.9, -88.2),
    "Aberdeenshire, inland of the airport": (57.2, -2.6),
    "the Spanish plateau by Burgos": (42.3, -3.7),
    "the middle of Iceland": (65.0, -18.5),
    "Fairbanks": (64.8, -147.7),
    "Kamchatka": (56.0, 159.5),
    "Chukotka, east of 180 degrees": (66.5, -177.0),
    "Chukotka, west of 180 degrees": (67.5, 177.0),
    "Alice Springs": (-23.7, 133.9),
    "Santiago": (-33.5, -70.6),
    "the South Pole": (-89.0, 0.0),
}

AT_SEA = {
    "the middle of the North Sea": (56.5, 3.0),
    "the Fladen Ground": (58.4, 0.5),
    "the open Atlantic": (45.0, -30.0),
    "the Celtic Sea": (50.5, -8.0),
    "the Bay of Biscay": (45.5, -4.0),
    "the Barents Sea": (73.0, 30.0),
    "the Kattegat": (56.9, 11.7),
    "the Adriatic": (43.0, 15.0),
    "the Caspian": (41.5, 51.0),
    "Georges Bank": (41.5, -67.5),
    "the Grand Bank": (45.5, -51.0),
    "the Bering Sea shelf": (57.5, -168.0),
    "the Bering Sea at 180 degrees": (60.0, 180.0),
    "the Bering Sea west of 180 degrees": (61.0, 178.5),
    "the Gulf of Alaska shelf": (57.0, -151.5),
    "the shelf off Kodiak": (56.8, -153.0),
    "the Agulhas Bank": (-35.5, 21.0),
    "the Chatham Rise": (-43.5, 178.0),
    "the Patagonian shelf": (-46.0, -64.0),
    "where the equator crosses Greenwich": (0.0, 0.0),
}


@pytest.mark.parametrize("place", ON_LAND)
def test_places_on_land(place: str) -> None:
    latitude, longitude = ON_LAND[place]
    assert on_land([latitude], [longitude]).tolist() == [True]


@pytest.mark.parametrize("place", AT_SEA)
def test_places_at_sea(place: str) -> None:
    latitude, longitude = AT_SEA[place]
    assert on_land([latitude], [longitude]).tolist() == [False]


def test_an_unknown_position_is_not_on_land() -> None:
    nan = float("nan")
    assert on_land([nan, 40.4, nan], [-3.7, nan, nan]).tolist() == [False, False, False]


def test_no_positions_at_all() -> None:
    assert on_land([], []).tolist() == []


def test_a_position_just_inside_the_coast_is_given_the_benefit_of_the_doubt() -> None:
    # West of Esbjerg the Danish coast runs close to north and south.
    longitudes = np.arange(7.5, 9.0, 0.005)
    latitudes = np.full_like(longitudes, 56.0)
    outside = longitudes[~on_land(latitudes, longitudes)].max()
    coast = outline().boundary
    point = type(outline().representative_point())
    assert outline().contains(point(outside, 56.0))
    assert coast.distance(point(outside, 56.0)) <= MARGIN
    assert coast.distance(point(outside + 0.01, 56.0)) > MARGIN - 0.01


def test_the_outline_holds_the_known_share_of_the_globe() -> None:
    # General geography: land is 29 % of the globe's surface.
    latitude = np.degrees(np.arcsin(np.linspace(-0.999, 0.999, 181)))
    longitude = np.linspace(-179.5, 179.5, 181)
    y, x = np.meshgrid(latitude, longitude)
    share = on_land(y.ravel(), x.ravel()).mean()
    assert 0.27 < share < 0.30
