"""When the work is done: tasks with their hours, what waits for what, and on which days."""

from lacunar.schedule.make import dated, make_calendar
from lacunar.schedule.tasks import list_tasks
from lacunar.schedule.types import Calendar, Dated, Range, Task

__all__ = ["Calendar", "Dated", "Range", "Task", "dated", "list_tasks", "make_calendar"]
