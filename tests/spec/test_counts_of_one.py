"""A count of one is told as one: nothing on a page says `1 hauls`."""

from __future__ import annotations

from html import unescape
from re import DOTALL, findall, sub
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline import run_season
from reports.editions import EDITIONS
from reports.language import language_of, told_in
from reports.page import season_page
from reports.tears.words import counted
from tests.spec.torn_nets import findings_of, season

if TYPE_CHECKING:
    from pipeline.findings import Findings

MANY = {
    "en": r"hauls|trips|boats|rows|rigs|tears|parts|changes|notes|cells|comparisons|species are",
    "es": r"lances|mareas|barcos|filas|armados|roturas|partes|cambios|notas|celdas|comparaciones",
}
HEADS = "vessel,trip,haul,rig_version,ground,tow_hours,shot_at,damaged,mending_hours,damage_note"
TORN = "Skua,1,1,rope,sand,3,2031-01-03 06:00,{},2,port wing torn"


@pytest.fixture(scope="module", params=["yes", "no", ""])
def one_haul(tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest) -> Findings:
    """A season of one haul: torn, whole, or as its note tells."""
    folder = tmp_path_factory.mktemp("one haul")
    (folder / "hauls.csv").write_text(f"{HEADS}\n{TORN.format(request.param)}\n", "utf-8")
    return run_season(folder).findings


@pytest.mark.parametrize("reader", ["skipper", "study"])
@pytest.mark.parametrize("tag", list(MANY))
def test_a_page_of_one_haul_says_nothing_of_one_in_the_plural(
    one_haul: Findings, reader: str, tag: str
) -> None:
    with told_in(language_of(tag)):
        page = season_page(one_haul, EDITIONS[reader])
    text = unescape(sub(r"<script.*?</script>|<style.*?</style>|<[^>]+>", " ", page, flags=DOTALL))
    assert findall(rf".*(?<![\d.,–-])\b1 (?:good |damaged )?(?:{MANY[tag]})\b.*", text) == []


def test_of_one_damaged_haul_it_is_said_what_it_names() -> None:
    hauls = season(["rope"])
    first = hauls.filter(pl.col("haul") == "0")
    assert counted(findings_of(first)["damage"]) == [
        "Of 1 damaged haul, 1 names the part of the net that tore; 1 names a cause."
    ]
    silent = first.with_columns(parts=pl.lit(None, pl.String))
    assert counted(findings_of(silent)["damage"]) == [
        "Of 1 damaged haul, none names the part of the net that tore; 1 names a cause."
    ]
