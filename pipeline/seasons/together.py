"""Put checked seasons together into one, of which every row still leads to its file and row."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pipeline.checking.across import follows_from_another
from pipeline.checking.check_season import need_rows, with_remarks
from pipeline.intake.whole_settings import currencies
from pipeline.rigs.stretching.length_remarks import went_back
from pipeline.rows import SEASON
from pipeline.seasons.among import numbered, side_by_side
from pipeline.seasons.boats import boats_a_slip_apart, boats_nearly_alike, boats_of_several
from pipeline.seasons.hauls import each_haul_once
from pipeline.seasons.money import money_left_out, without_money
from pipeline.seasons.repeats import each_row_once
from pipeline.seasons.rig_names import with_asked_names
from pipeline.seasons.rigs_alike import need_alike_rigs, told_by_some, with_blanks_filled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings


def put_together(
    seasons: Sequence[CheckedSeason], whole: Settings, of_each: Sequence[Settings]
) -> CheckedSeason:
    """The seasons as one, with `season` as a further factor; `whole` is what holds for all.

    Each season has its name, and the rig in force written to every haul. Raises
    `SeasonUnusableError` where a rig of one name is two, and in the other cases that the steps
    name.
    """
    apart = with_asked_names(numbered(seasons), whole.rigs)
    need_alike_rigs(apart, whole.rigs.same)
    told = told_by_some(apart, whole.rigs.same)
    apart = each_haul_once(apart)
    named = currencies(whole, of_each)
    if len(named) > 1:
        apart = [without_money(season, named) for season in apart]
        told.append(money_left_out(named))
    one = with_blanks_filled(side_by_side(apart), whole.rigs.same)
    one = each_row_once(one, whole.rigs.same)
    need_rows(one)
    hauls = one.tables["hauls"]
    one = with_remarks(one, "hauls", boats_nearly_alike(hauls))
    one = with_remarks(one, "hauls", boats_a_slip_apart(hauls))
    if "length_checks" in one.tables:
        one = with_remarks(one, "length_checks", went_back(one.tables["length_checks"]))
    gone = one.set_aside.select("table", "source_file", "source_row")
    return replace(
        one,
        set_aside=one.set_aside.sort(follows_from_another(), maintain_order=True),
        remarks=one.remarks.join(gone, on=gone.columns, how="anti").unique(maintain_order=True),
        together=(*boats_of_several(hauls.select("vessel", SEASON)), *told),
    )
