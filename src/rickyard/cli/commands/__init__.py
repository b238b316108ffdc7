"""The subcommands of `rickyard`, one file each.

Each parses its options, calls the services, and shows what came back.
"""
