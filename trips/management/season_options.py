"""Which stored season, site of it and target list a command is about, found by their names."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.management.plain import RefusalError
from trips.models import Season, Site, TargetList

MOST_NAMES = 10


def add_organisation_option(parser: CommandParser) -> None:
    parser.add_argument(
        "--organisation", metavar="NAME", help=_("where two organisations use the same name")
    )


def season_named(name: str, organisation: str | None) -> Season:
    known = Season.objects.current().select_related("organisation")
    found = list(known.filter(name=name))
    if organisation is not None:
        found = [season for season in found if season.organisation.name == organisation]
    if not found:
        names = written(nearest_first(name, known.values_list("name", flat=True)))
        raise RefusalError(
            _("There is no season “%(name)s”; known are: %(names)s.")
            % {"name": name, "names": names}
        )
    if len(found) > 1:
        owners = written(season.organisation.name for season in found)
        raise RefusalError(
            _("Several organisations have a season “%(name)s”; add --organisation: %(owners)s.")
            % {"name": name, "owners": owners}
        )
    season: Season = found[0]
    return season


def site_named(name: str, sites: Iterable[Site]) -> Site:
    """Find one of a season's sites; it has some."""
    by_name = {site.name: site for site in sites}
    if name not in by_name:
        raise RefusalError(
            _("--site: “%(name)s” is no site of this season; it has: %(names)s.")
            % {"name": name, "names": written(nearest_first(name, by_name))}
        )
    return by_name[name]


def list_named(name: str, season: Season) -> TargetList:
    """Find one of the lists of the season's organisation."""
    own: Iterable[TargetList] = TargetList.objects.current().filter(
        organisation=season.organisation_id
    )
    by_name = {each.name: each for each in own}
    if name not in by_name:
        raise RefusalError(
            _(
                "--targets: “%(name)s” is no target list of “%(organisation)s”; known are: "
                "%(names)s; or “dark”, for the dark alone."
            )
            % {
                "name": name,
                "organisation": season.organisation.name,
                "names": written(nearest_first(name, by_name)),
            }
        )
    return by_name[name]


def nearest_first(name: str, known: Iterable[str]) -> list[str]:
    """Give the names that are spelt most like this one, the likest first, each once."""

    def unlike(other: str) -> float:
        return -SequenceMatcher(None, name.casefold(), other.casefold()).ratio()

    return sorted(dict.fromkeys(known), key=unlike)[:MOST_NAMES]


def written(names: Iterable[str]) -> str:
    return ", ".join(f"“{each}”" for each in names) or _("none yet")
