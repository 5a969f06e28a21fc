"""Readings that came from a site's form say so."""

from __future__ import annotations

from typing import Any

from django.db import migrations, models


def name_typed(apps: Any, _schema: Any) -> None:
    apps.get_model("trips", "DarknessReading").objects.filter(how="").update(how="typed")


def forget_typed(apps: Any, _schema: Any) -> None:
    apps.get_model("trips", "DarknessReading").objects.filter(how="typed").update(how="")


class Migration(migrations.Migration):
    dependencies = [("trips", "0006_trips")]

    operations = [
        migrations.AlterField(
            model_name="darknessreading",
            name="how",
            field=models.CharField(
                choices=[
                    ("meter", "with a meter"),
                    ("frame", "from a test frame"),
                    ("typed", "typed in the site’s form"),
                ],
                default="meter",
                max_length=8,
                verbose_name="how",
            ),
        ),
        migrations.RunPython(name_typed, forget_typed),
    ]
