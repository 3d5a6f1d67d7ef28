"""Fluids of the car, gathered: oil and coolant each have a file of their own."""

from shopcli.workings import coolant, oil
from shopcli.workings.frame import Working

WORKINGS: tuple[Working, ...] = (*oil.WORKINGS, *coolant.WORKINGS)
