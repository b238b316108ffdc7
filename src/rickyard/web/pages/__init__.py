"""Pages by their addresses: each reads what was asked, calls a service, and shows its answer."""
