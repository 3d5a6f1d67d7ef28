"""The template language: load and validate, layer spec sheets, expand for a vehicle, plan the order."""
