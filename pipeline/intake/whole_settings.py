"""What holds for several seasons together: what their folder says, else what they say themselves.

A season that says nothing of a key does not gainsay one that does.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from schemas.settings import About, Checks, Settings
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from pydantic import BaseModel

DIFFERING = saying(
    "The seasons differ in [{}] {}, and the season.toml beside their folders does not settle it: "
    "it is taken as if none had said it."
)
REASONS = (DIFFERING,)

OF_THE_WHOLE = ("season", "costs", "model", "units", "sharing", "checks")
OWN = {"title", "time_zone", "grounds", "longest_tow_hours"}
"""What every season may have its own of; a title that all have is that of the whole too."""
CAREFUL = "sharing"
"""Of this section silence is a word: who says nothing relies on the bounds that then hold."""

Values = dict[str, Any]


def whole_settings(top: Settings, of_each: Mapping[str, Settings], name: str) -> Settings:
    """The settings for all seasons of a folder called `name`.

    `top` is what the folder's own file says; what it leaves open is settled by the seasons that
    say it where those agree, and as it is where nothing is said where they do not. Costs and
    prices of several currencies are not added up, so costs are then the folder's own alone.
    """
    settled: Values = {section: _settled(section, top, of_each) for section in OF_THE_WHOLE}
    grounds = [ground for each in (top, *of_each.values()) for ground in each.season.grounds]
    settled["season"] = {
        "title": _title_of_all(of_each) or name,
        **settled["season"],
        "grounds": tuple(dict.fromkeys(grounds)),
    }
    if len(currencies(top, of_each.values())) > 1:
        settled["costs"] = _said(top.costs)
    else:
        settled["season"]["currency"] = next(iter(currencies(top, of_each.values())), "")
    return Settings.model_validate({**settled, "rigs": top.rigs.model_dump()})


def differing_settings(top: Settings, of_each: Mapping[str, Settings]) -> tuple[str, ...]:
    """A sentence on each setting that seasons say unlike and of which the folder says nothing."""
    sentences = []
    for section in OF_THE_WHOLE:
        for key in type(getattr(top, section)).model_fields:
            open_left = key not in getattr(top, section).model_fields_set
            of_the_whole = open_left and key not in {*OWN, "currency"}
            if of_the_whole and not _alike(_of_seasons(section, key, of_each)):
                sentences.append(DIFFERING.format(section, key))
    return tuple(sentences)


def currencies(top: Settings, of_each: Iterable[Settings]) -> tuple[str, ...]:
    """The currencies that are named, in order of their names."""
    named = {each.season.currency for each in (top, *of_each)}
    return tuple(sorted(named - {""}))


def handed_down(top: Settings, season: Settings) -> Settings:
    """The season's settings, with the bounds, grounds and time zone of the whole it leaves open."""
    about: Values = {
        **{key: value for key, value in _said(top.season).items() if key in OWN - {"title"}},
        **_said(season.season),
        "grounds": tuple(dict.fromkeys((*season.season.grounds, *top.season.grounds))),
    }
    checks = {**_said(top.checks), **_said(season.checks)}
    return season.model_copy(
        update={"season": About.model_validate(about), "checks": Checks.model_validate(checks)}
    )


def _settled(section: str, top: Settings, of_each: Mapping[str, Settings]) -> Values:
    """The keys of a section that are said, by the whole or by the seasons that say them alike."""
    said: Values = {}
    for each in of_each.values():
        said |= _said(getattr(each, section))
    agreed = {
        key: value
        for key, value in said.items()
        if key not in OWN and _alike(_of_seasons(section, key, of_each))
    }
    return {**agreed, **_said(getattr(top, section))}


def _of_seasons(section: str, key: str, of_each: Mapping[str, Settings]) -> list[object]:
    """What the seasons say of a key."""
    sections = [getattr(each, section) for each in of_each.values()]
    return [
        getattr(each, key)
        for each in sections
        if section == CAREFUL or key in each.model_fields_set
    ]


def _title_of_all(of_each: Mapping[str, Settings]) -> str:
    """The title that all seasons have; none where they differ."""
    titles = {each.season.title for each in of_each.values()}
    return titles.pop() if len(titles) == 1 else ""


def _said(section: BaseModel) -> Values:
    """What a section says, without what holds where it says nothing."""
    return {key: getattr(section, key) for key in section.model_fields_set}


def _alike(values: list[object]) -> bool:
    return all(value == values[0] for value in values)
