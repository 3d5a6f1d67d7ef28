"""What people and files may bring, spoilt at random: ``python -m tests.fuzz [CASES [SEED]]``."""
