"""What every test shares."""

from datetime import timedelta

from hypothesis import settings

from support import rechecked

# A machine that does several things at once stalls now and then: that is no failure.
settings.register_profile("rickyard", deadline=timedelta(seconds=5))
settings.load_profile("rickyard")

# Test modules are imported after this file: whatever they plan is looked at twice.
rechecked.install()
