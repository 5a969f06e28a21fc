"""The sky over a place, night by night: when it is dark, and when it is dark without the Moon.

A library without Django. Instants are aware UTC, longitudes east positive, angles in degrees,
lengths in metres, hours as decimal hours; the names carry the unit where it is not plain.
"""

# Part of every cache key and fingerprint: raise it when a computed number may change.
ENGINE_VERSION = "2"
