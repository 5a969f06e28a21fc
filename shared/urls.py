"""Addresses of the service; the demo adds its sign-in link."""

from django.apps import apps
from django.contrib import admin
from django.urls import URLPattern, URLResolver, include, path

urlpatterns: list[URLPattern | URLResolver] = [
    path("", include("trips.urls")),
    path("admin/", admin.site.urls),  # for whoever keeps the server: clubs, members, accounts
]
if apps.is_installed("demo"):
    urlpatterns.append(path("demo/", include("demo.urls")))
