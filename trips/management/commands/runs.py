"""Rank the runs of a season, those of all its sites together. Reads stored nights and windows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.forms.fields import DAY_NAMES
from trips.management.plain import PlainCommand, RefusalError, add_format_option
from trips.management.printing import Record, as_table, rendered
from trips.management.season_options import (
    add_organisation_option,
    list_named,
    season_named,
    site_named,
)
from trips.models import Season, Site, TargetList
from trips.planning.nights import LONGEST_RUN, Wishes
from trips.planning.runs import Run, Stretch
from trips.planning.season_view import SeasonView
from trips.services.judged import Gap, judge_season

THE_DARK = "dark"
MOST_NOTES = 5  # more hide the others

COLUMNS = {
    "rank": "rank",
    "site": "site",
    "first": "first",
    "last": "last",
    "hours": "hours",
    "spare_hours": "spare",
    "new_moon": "new Moon",
    "ties": "ties",
    "also": "also",
    "also_hours": "its hours",
    "wanted": "wanted",
}


class Command(PlainCommand):
    help = (
        "Rank the runs of a season: the best of each site and new Moon, all sites together.\n"
        "Hours are weighted by the season's target list; without one, of the moonless dark.\n"
        "Ties are the runs at the same site and new Moon that are as good, to the minute; so are\n"
        "runs that share a rank, of which the one with more hours to spare stands first."
    )
    example = (
        "example:\n"
        "  manage.py runs --season 'Season 2027' --length 3 --weekdays fri,sat,sun --top 10\n"
        "  manage.py runs --season 'Season 2027' --targets dark --format csv"
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--season", required=True, metavar="NAME")
        add_organisation_option(parser)
        parser.add_argument(
            "--length", metavar="NIGHTS", help=_("1 to 14; default: as the season has it")
        )
        parser.add_argument(
            "--weekdays", metavar="DAYS", help=_("fri,sat,sun; default: as the season has it")
        )
        parser.add_argument("--site", metavar="NAME", help=_("default: all sites of the season"))
        parser.add_argument(
            "--targets",
            metavar="LIST",
            help=_("a target list, or dark; default: as the season has it"),
        )
        parser.add_argument("--top", default="10", metavar="RUNS", help=_("default: 10"))
        add_format_option(parser)

    def handle(self, **options: Any) -> None:
        top = _count("--top", options["top"])
        season = season_named(options["season"], options["organisation"])
        wanted = _wanted(options["targets"], season)
        wishes = _wishes(options, season, wanted)
        sites = _sites(season, options["site"])
        judged = judge_season(season, wishes)
        view = SeasonView(tuple(each for each in judged.view.sites if each.site in sites))
        self._note([_gap(gap, season) for gap in judged.gaps if gap.site in sites])
        runs = view.runs_together
        counts = wanted.name if wanted else THE_DARK
        records = [_record(site, run, counts) for site, run in runs[:top]]
        self.stdout.write(_rendered(records, options["format"]), ending="")
        self._note(list(_notes(runs, top, wishes.run_length)))

    def _note(self, notes: Sequence[str]) -> None:
        for note in notes[:MOST_NOTES]:
            self.stderr.write(note)
        if len(notes) > MOST_NOTES:
            self.stderr.write(_("… and %d more like these.") % (len(notes) - MOST_NOTES))


def _sites(season: Season, name: str | None) -> list[Site]:
    sites = list(season.sites.current())
    if not sites:
        raise RefusalError(
            _("Season “%s” has no sites yet; choose some on its page.") % season.name
        )
    return sites if name is None else [site_named(name, sites)]


def _wanted(name: str | None, season: Season) -> TargetList | None:
    if name is None:
        return season.target_list
    return None if name == THE_DARK else list_named(name, season)


def _wishes(options: dict[str, Any], season: Season, wanted: TargetList | None) -> Wishes:
    wishes = replace(Wishes.of(season), target_list=wanted.pk if wanted else None)
    if options["length"] is not None:
        wishes = replace(wishes, run_length=_length(options["length"]))
    if options["weekdays"] is not None:
        wishes = replace(wishes, weekdays=_weekdays(options["weekdays"]))
    return wishes


def _length(text: str) -> int:
    length = _count("--length", text)
    if length > LONGEST_RUN:
        raise RefusalError(
            _("--length: %(length)d is more than %(most)d nights.")
            % {"length": length, "most": LONGEST_RUN}
        )
    return length


def _count(option: str, text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 6):
        raise RefusalError(
            _("%(option)s: “%(text)s” is not a whole number from 1 on.")
            % {"option": option, "text": text}
        )
    if not int(text):
        raise RefusalError(_("%(option)s: 0 is fewer than one.") % {"option": option})
    return int(text)


def _weekdays(text: str) -> frozenset[int]:
    names = [name.strip().casefold() for name in text.split(",")]
    for name in names:
        if name not in DAY_NAMES:
            raise RefusalError(
                _("--weekdays: “%(name)s” is no weekday; there are %(days)s.")
                % {"name": name, "days": ", ".join(DAY_NAMES)}
            )
    return frozenset(DAY_NAMES.index(name) for name in names)


def _record(site: Site, run: Run, wanted: str) -> Record:
    return {
        "rank": run.rank,
        "site": site.name,
        "first": run.first.isoformat(),
        "last": run.last.isoformat(),
        "hours": round(run.hours, 3),
        "spare_hours": round(run.best.spare_hours, 3),
        "new_moon": run.new_moon.date().isoformat(),
        "ties": [_dates(each) for each in run.ties],
        "also": [_dates(run.also)] if run.also else [],
        "also_hours": round(run.also.hours, 3) if run.also else None,
        "wanted": wanted,
    }


def _dates(stretch: Stretch) -> list[str]:
    return [stretch.first.isoformat(), stretch.last.isoformat()]


def _rendered(records: list[Record], form: str) -> str:
    if form == "table":
        # A dozen equal runs are counted: their dates would push the rest off the screen.
        counted = [record | {"ties": len(record["ties"])} for record in records]
        return as_table(counted, COLUMNS)
    return rendered(records, form, COLUMNS)


def _gap(gap: Gap, season: Season) -> str:
    """Say what is not computed of a site, and how it will be."""
    short = {
        _("%d nights are not computed"): gap.missing,
        _("%d nights are out of date"): gap.stale,
        _("%d windows of targets are missing"): gap.windows,
    }
    return _("Note: at %(site)s %(short)s; “manage.py season '%(season)s'” computes them.") % {
        "site": gap.site.name,
        "short": ", ".join(words % number for words, number in short.items() if number),
        "season": season.name,
    }


def _notes(runs: Sequence[tuple[Site, Run]], top: int, length: int) -> Iterator[str]:
    """Say why there is nothing, or what is as good as the last run and not told."""
    if not runs:
        yield (
            ngettext(
                "Note: no run of %d night that is offered has a usable hour.",
                "Note: no run of %d nights that is offered has a usable hour.",
                length,
            )
            % length
        )
    last = runs[:top][-1:]
    equal = sum(run.rank == last[0][1].rank for _site, run in runs[top:]) if last else 0
    if equal:
        yield (
            ngettext(
                "Note: %d more run is as good as the last of these.",
                "Note: %d more runs are as good as the last of these.",
                equal,
            )
            % equal
        )
