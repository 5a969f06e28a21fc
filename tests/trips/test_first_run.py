"""From an empty account to a first season: the pages on the way, and what has to be typed.

Goes only where a page's main button or main form leads, and types only what it leaves empty.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any
from urllib.parse import urljoin

import pytest
from django.test import Client

from tests.conftest import PASSWORD
from trips.models import Job, Membership, Organisation, Season, Site, User

MOST_PAGES, MOST_FIELDS = 4, 4
TYPED = {"name": "Broom Hill", "latitude": "40.4, −1.1", "elevation_m": "1600"}


class MainWay(HTMLParser):
    """The main button of a page: where its form or its link leads, and the form's fields."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: list[dict[str, Any]] = []
        self.link = self._select = ""
        self.form: dict[str, Any] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        classes = values.get("class", "").split()
        if tag == "form":
            self.forms.append({"action": values.get("action", ""), "data": {}})
        elif tag in ("a", "button") and "main" in classes:
            if tag == "a":
                self.link = values["href"]
            else:
                self.form = self.forms[-1]
        elif self.forms:
            self._field(tag, values)

    def _field(self, tag: str, values: dict[str, str]) -> None:
        data, name = self.forms[-1]["data"], values.get("name", "")
        if tag == "input" and name:
            if values.get("type") != "checkbox" or "checked" in values:
                data.setdefault(name, []).append(values.get("value", ""))
        elif tag == "select":
            self._select = name
        elif tag == "option" and "selected" in values:
            data[self._select] = [values.get("value", "")]
        elif tag == "textarea":
            data[name] = [""]


@dataclass
class Newcomer:
    client: Client
    page: str = ""
    address: str = "/"
    pages: int = 0
    typed: list[str] = field(default_factory=list)

    def open(self, address: str) -> None:
        response: Any = self.client.get(address, follow=True)
        self._arrive(response, address)

    def press_main(self, **values: str) -> None:
        """Type the values, press the main button, and count the page that was worked on."""
        way = MainWay()
        way.feed(self.page)
        self.pages += 1
        self.typed += values
        if way.form is None:
            assert not values
            self.open(urljoin(self.address, way.link))
            return
        data = {name: value for name, value in way.form["data"].items() if name != "look"}
        target = urljoin(self.address, way.form["action"])
        sent = data | {name: [value] for name, value in values.items()}
        self._arrive(self.client.post(target, sent, follow=True), target)

    def _arrive(self, response: Any, address: str) -> None:
        assert response.status_code == 200
        self.page = response.content.decode()
        self.address = response.redirect_chain[-1][0] if response.redirect_chain else address


@pytest.fixture
def newcomer(db: None) -> Newcomer:
    user = User.objects.create_user("new@meadow.example", PASSWORD)
    club = Organisation.objects.create(name="Meadow Night Club")
    Membership.objects.create(user=user, organisation=club, role="coordinator")
    client = Client()
    client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
    return Newcomer(client)


def go_to_a_first_season(newcomer: Newcomer) -> None:
    newcomer.open("/")
    newcomer.press_main(**TYPED)
    assert "40.4000° north, 1.1000° west" in newcomer.page  # the echo
    newcomer.press_main()
    assert "Next: a season" in newcomer.page  # the page of the site
    newcomer.press_main()
    assert "Add a season" in newcomer.page
    newcomer.press_main()


def test_the_main_buttons_lead_from_nothing_to_a_season(newcomer: Newcomer) -> None:
    go_to_a_first_season(newcomer)
    season, site = Season.objects.get(), Site.objects.get()
    assert list(season.sites.all()) == [site]
    assert newcomer.address == f"/seasons/{season.pk}/"
    assert Job.objects.get().total in (365, 366)


def test_the_way_takes_few_pages_and_few_fields(newcomer: Newcomer) -> None:
    go_to_a_first_season(newcomer)
    assert newcomer.pages <= MOST_PAGES
    assert len(newcomer.typed) <= MOST_FIELDS


def test_a_mistake_on_the_way_loses_nothing(newcomer: Newcomer) -> None:
    newcomer.open("/")
    newcomer.press_main(**TYPED | {"latitude": "north"})
    assert "Not saved: 2 things to put right" in newcomer.page
    assert "Broom Hill" in newcomer.page
    newcomer.press_main(latitude="40.4, −1.1")
    newcomer.press_main()
    assert Site.objects.get().name == "Broom Hill"
