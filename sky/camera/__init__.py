"""What a lens and a sensor make of the sky: fields, drift, exposure, framing."""
