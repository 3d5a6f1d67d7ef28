"""At a real terminal: what is typed before the first picture stands lands in the field it is meant for."""

from pathlib import Path

from tests.terminal.test_main_job import Station


def test_a_name_typed_while_the_application_starts_is_not_lost(tmp_path: Path) -> None:
    station = Station(tmp_path)
    try:
        station.person.process.send("zoe")
        station.person.see("Find *zoe")
    finally:
        station.person.kill()
