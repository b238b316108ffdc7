"""Long work as Django's tasks: asked for, found again, and told of, over the book's own table.

Knows no task by name; what a task does stands in the services.
"""

# fmt: off
from rickyard.book.tasks.tasks import NotDone, WorkContext, result_of

__all__ = ["NotDone", "WorkContext", "result_of"]
