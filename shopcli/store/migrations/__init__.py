"""Migrations, shipped inside the package."""
