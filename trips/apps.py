from importlib import import_module

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TripsConfig(AppConfig):
    name = "trips"
    verbose_name = _("trips")

    def ready(self) -> None:
        import_module("trips.checks")
