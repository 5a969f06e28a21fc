"""The back room: every row, for whoever runs the server. The deeds are in the pages."""

from __future__ import annotations

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.utils.translation import gettext_lazy as _

from trips.models import Job, Membership, Organisation, Season, Site, User


class MembershipInline(admin.TabularInline):  # type: ignore[type-arg]
    model = Membership
    extra = 1


@admin.register(User)
class EmailUserAdmin(UserAdmin):  # type: ignore[type-arg]
    ordering = ["email"]
    list_display = ["email", "first_name", "last_name", "is_staff"]
    search_fields = ["email", "first_name", "last_name"]
    fieldsets = [
        (None, {"fields": ["email", "password"]}),
        (_("Name"), {"fields": ["first_name", "last_name"]}),
        (_("Rights"), {"fields": ["is_active", "is_staff", "is_superuser"]}),
    ]
    add_fieldsets = [(None, {"fields": ["email", "usable_password", "password1", "password2"]})]


@admin.register(Organisation)
class OrganisationAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    inlines = [MembershipInline]


class ReadOnlyAdmin(admin.ModelAdmin):  # type: ignore[type-arg]
    """Rows that only services may change: the back room looks."""

    def has_add_permission(self, request: object) -> bool:  # noqa: ARG002
        return False

    def has_change_permission(self, request: object, obj: object = None) -> bool:  # noqa: ARG002
        return False

    def has_delete_permission(self, request: object, obj: object = None) -> bool:  # noqa: ARG002
        return False


@admin.register(Site)
class SiteAdmin(ReadOnlyAdmin):
    list_display = ["name", "organisation", "zone", "archived_at"]


@admin.register(Season)
class SeasonAdmin(ReadOnlyAdmin):
    list_display = ["name", "organisation", "first_night", "last_night", "archived_at"]


@admin.register(Job)
class JobAdmin(ReadOnlyAdmin):
    list_display = ["created_at", "site", "first_night", "last_night", "state", "attempts"]
    list_filter = ["state"]
