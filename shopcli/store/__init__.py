"""Where records live: engine, unit of work, migrations, and the read side."""
