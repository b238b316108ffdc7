"""The farm folder: read it whole or not at all, write it back exactly."""
