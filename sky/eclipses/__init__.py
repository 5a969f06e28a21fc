"""When the Earth's shadow meets the Moon, and the Moon's the Earth; what is seen from a place."""
