"""What sky refuses, as a code with fields; the caller puts it into words."""


class SkyError(ValueError):
    """A refusal that a person can act on.

    `code` is a stable word (`latitude_out_of_range`), `fields` the values that a sentence about
    it needs. `str()` is for logs, not for pages.
    """

    def __init__(self, code: str, **fields: object) -> None:
        self.code = code
        self.fields = fields
        details = ", ".join(f"{name}={value!r}" for name, value in fields.items())
        super().__init__(f"{code}: {details}" if details else code)
