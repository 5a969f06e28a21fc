"""What to do about cold and dew, in words: each deed with its reason.

Common practice, no published source, but where one is named.
"""

from __future__ import annotations

from django.utils.translation import gettext_lazy

# By the codes of planning/cold_advice.py: what to do, and why.
COLD = {
    "cool_down": (
        gettext_lazy("Let camera and lenses cool in their closed bag before the first frame."),
        gettext_lazy("Warm glass shifts its focus and makes the air in front of it swim."),
    ),
    "dew": (
        gettext_lazy("Expect dew: a heater or a hand warmer under a band around each lens."),
        gettext_lazy("Under a clear sky glass grows some degrees colder than the air."),
    ),
    "dew_unknown": (
        gettext_lazy("Bring a heater or a hand warmer for each lens all the same."),
        gettext_lazy("Without a humidity nobody can say how near the dew point is."),
    ),
    "batteries": (
        gettext_lazy("Carry spare batteries close to the body and change them in turn."),
        gettext_lazy("A cold battery gives out early, and gives the rest once it is warm."),
    ),
    "biting": (
        gettext_lazy("Thin gloves under thick ones; touch no bare metal."),
        gettext_lazy("In this wind hands stop working before they hurt."),
    ),
    "frostbite": (
        gettext_lazy("Cover all skin, look at each other’s faces, and keep the session short."),
        gettext_lazy(
            "Bare skin freezes within half an hour (chart of the US National Weather Service, "
            "2001)."
        ),
    ),
    "warm_up": (
        gettext_lazy("Close the bag before going into the warm, and open it when it has warmed."),
        gettext_lazy("Moist air then wets the bag instead of the glass. Take the card out first."),
    ),
}
