"""Addresses that exist only under the demo settings."""

from django.urls import path

from demo import views

urlpatterns = [path("sign-in/<str:token>/", views.sign_in, name="demo_sign_in")]
