"""Signing in by typing, and out again."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.club import PASSWORD
from tests.browser.seeing import Eyes, Visit


def test_a_member_signs_in_and_out_by_keyboard(visit: Visit) -> None:
    page = visit.alone("sign-in", Eyes(who="nobody"))
    page.get_by_label("E-mail").fill("coordinator@meadow.example")
    page.get_by_label("Password").fill(PASSWORD)
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Sign out")).to_be_visible()
    page.get_by_role("button", name="Sign out").press("Enter")
    expect(page).to_have_url(re.compile("/sign-in/"))


def test_a_wrong_password_is_refused_in_words(visit: Visit) -> None:
    page = visit.alone("sign-in", Eyes(who="nobody"))
    page.get_by_label("E-mail").fill("coordinator@meadow.example")
    page.get_by_label("Password").fill("not-it")
    page.keyboard.press("Enter")
    expect(
        page.get_by_role("alert").or_(page.locator(".errorlist, .mistakes")).first
    ).to_be_visible()
    expect(page.get_by_label("E-mail")).to_have_value("coordinator@meadow.example")


def test_a_stranger_is_led_to_the_sign_in_and_back(visit: Visit) -> None:
    page = visit.alone("season-list", Eyes(who="nobody"))
    expect(page).to_have_url(re.compile("/sign-in/.*next="))
    page.get_by_label("E-mail").fill("coordinator@meadow.example")
    page.get_by_label("Password").fill(PASSWORD)
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile("/seasons/$"))
