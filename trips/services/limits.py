"""How often one address may try something: counted in the cache of the process that answers."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.cache import cache


@dataclass(frozen=True, slots=True)
class Limit:
    """At most so many in so many seconds, from the first one on."""

    name: str
    most: int
    seconds: int

    def count(self, who: str) -> int:
        """Count one more; give how many there are."""
        key = self._key(who)
        if cache.add(key, 1, self.seconds):
            return 1
        try:
            return int(cache.incr(key))
        except ValueError:  # it ran out between the two
            cache.set(key, 1, self.seconds)
            return 1

    def _key(self, who: str) -> str:
        return f"limit:{self.name}:{who}"
