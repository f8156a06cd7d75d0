"""Invented trawl seasons of any size whose true differences between rigs are known."""

from synthetic_data.season import InventedSeason, invent_season
from synthetic_data.writing import write_season

__all__ = ["InventedSeason", "invent_season", "write_season"]
