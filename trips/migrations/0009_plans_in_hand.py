"""The lease of a worker that makes the plans of a version of a brief."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("trips", "0008_briefs"),
    ]

    operations = [
        migrations.AddField(
            model_name="brief",
            name="lease_expires_at",
            field=models.DateTimeField(editable=False, null=True),
        ),
        migrations.AddField(
            model_name="brief",
            name="lease_owner",
            field=models.UUIDField(editable=False, null=True),
        ),
    ]
