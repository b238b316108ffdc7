"""For how long a day a group is let to its hay."""

from typing import ClassVar

from django.db import migrations, models


class Migration(migrations.Migration):
    """Keep the hours."""

    dependencies: ClassVar = [
        ("book", "0002_ledgers"),
    ]

    operations: ClassVar = [
        migrations.AddField(
            model_name="groupstate",
            name="hours_at_hay",
            field=models.FloatField(null=True),
        ),
    ]
