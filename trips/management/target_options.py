"""Which target a command is asked about: by a name, or by a position among the stars."""

from __future__ import annotations

from typing import Any

from django.core.management.base import CommandParser
from django.utils.translation import gettext as _

from trips.almanac.targets import LIGHTS, Target, find_target
from trips.management.plain import RefusalError


def add_target_options(parser: CommandParser) -> None:
    parser.add_argument("--target", metavar="NAME", help=_("such as “M 31” or Jupiter"))
    parser.add_argument("--ra", metavar="ANGLE", help=_("instead, with --dec: ICRS"))
    parser.add_argument("--dec", metavar="ANGLE", help=_("north positive"))
    parser.add_argument("--light", choices=LIGHTS, default="", help=_("default: the target’s"))


def target_asked(options: dict[str, Any]) -> Target:
    """Errors: those of `find_target`."""
    name, ra, dec = (options[each] for each in ("target", "ra", "dec"))
    if name is not None and ra is None and dec is None:
        return find_target(name)
    if name is None and ra is not None and dec is not None:
        return find_target(f"position:{ra},{dec}")
    raise RefusalError(_("Give a target with --target, or a position with --ra and --dec."))
