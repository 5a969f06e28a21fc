"""Briefs: what is written by hand, numbered versions, personal plans; calendars."""

import django.db.models.deletion
import uuid
from django.conf import settings
from django.db import migrations, models


def tell_nights_apart(apps, _schema):
    """One statement cannot give each row an own value on both databases."""
    nights = apps.get_model("trips", "TripNight").objects.all()
    for night in nights.iterator():
        nights.filter(pk=night.pk).update(uid=uuid.uuid4())


class Migration(migrations.Migration):

    dependencies = [
        ('trips', '0007_typed_readings'),
    ]

    operations = [
        migrations.AddField(
            model_name='site',
            name='emergency_number',
            field=models.CharField(blank=True, max_length=20, verbose_name='emergency number'),
        ),
        migrations.AddField(
            model_name='tripnight',
            name='meeting_latitude',
            field=models.FloatField(blank=True, null=True, verbose_name='its latitude'),
        ),
        migrations.AddField(
            model_name='tripnight',
            name='meeting_longitude',
            field=models.FloatField(blank=True, null=True, verbose_name='its longitude'),
        ),
        migrations.AddField(
            model_name='tripnight',
            name='uid',
            field=models.UUIDField(default=uuid.uuid4, editable=False, null=True),
        ),
        migrations.RunPython(tell_nights_apart, migrations.RunPython.noop),
        migrations.AlterField(
            model_name='tripnight',
            name='uid',
            field=models.UUIDField(default=uuid.uuid4, editable=False, unique=True),
        ),
        migrations.CreateModel(
            name='Brief',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('number', models.PositiveIntegerField()),
                ('published_at', models.DateTimeField()),
                ('facts', models.JSONField()),
                ('parts', models.JSONField()),
                ('changes', models.JSONField(default=list)),
                ('is_mailed', models.BooleanField(default=False)),
                ('night', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='briefs', to='trips.tripnight')),
                ('published_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['night', '-number'],
            },
        ),
        migrations.CreateModel(
            name='BriefNote',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField(default=1, editable=False)),
                ('part', models.CharField(max_length=24)),
                ('text', models.TextField(max_length=20000, verbose_name='your words')),
                ('is_instead', models.BooleanField(default=False, help_text='Otherwise both stand there, yours first.', verbose_name='instead of what is computed')),
                ('night', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='brief_notes', to='trips.tripnight')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='BriefPicture',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=40)),
                ('description', models.TextField()),
                ('png', models.BinaryField()),
                ('brief', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='pictures', to='trips.brief')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='CalendarLink',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('uid', models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ('link_generation', models.PositiveIntegerField(default=1, editable=False)),
                ('link_hash', models.CharField(editable=False, max_length=64, unique=True)),
                ('link_expires_at', models.DateTimeField(editable=False, null=True)),
                ('enrolment', models.OneToOneField(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='calendar_link', to='trips.enrolment')),
                ('trip', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='calendar_links', to='trips.trip')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='PersonalPlan',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('made_at', models.DateTimeField()),
                ('facts', models.JSONField()),
                ('parts', models.JSONField()),
                ('brief', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='plans', to='trips.brief')),
                ('enrolment', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='plans', to='trips.enrolment')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.AddConstraint(
            model_name='brief',
            constraint=models.UniqueConstraint(fields=('night', 'number'), name='brief_numbered_once'),
        ),
        migrations.AddConstraint(
            model_name='briefnote',
            constraint=models.UniqueConstraint(fields=('night', 'part'), name='one_note_a_part'),
        ),
        migrations.AddConstraint(
            model_name='briefpicture',
            constraint=models.UniqueConstraint(fields=('brief', 'name'), name='picture_once_a_brief'),
        ),
        migrations.AddConstraint(
            model_name='calendarlink',
            constraint=models.UniqueConstraint(condition=models.Q(('enrolment', None)), fields=('trip',), name='one_calendar_link_a_trip'),
        ),
        migrations.AddConstraint(
            model_name='personalplan',
            constraint=models.UniqueConstraint(fields=('brief', 'enrolment'), name='one_plan_a_person'),
        ),
    ]
