"""What Django is told of the record book: its tables, their migrations, their guards.

Nothing else imports it; Django does, by name.
"""
