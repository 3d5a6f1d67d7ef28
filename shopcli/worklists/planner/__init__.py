"""The order of work: what to start first so that waiting costs nothing, and why each task stands where it does."""

from shopcli.worklists.planner.check import check
from shopcli.worklists.planner.picture import picture
from shopcli.worklists.planner.plan import plan, top_to_bottom
from shopcli.worklists.planner.result import LeftOut, Plan, Step, Wait
from shopcli.worklists.planner.tasks import Pin, PlanTask, State

__all__ = [
    "LeftOut",
    "Pin",
    "Plan",
    "PlanTask",
    "State",
    "Step",
    "Wait",
    "check",
    "picture",
    "plan",
    "top_to_bottom",
]
