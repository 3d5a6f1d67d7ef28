"""Libraries of a few steps, made for one test each."""

import pytest

from tests.worklists.small import CLEARANCES, GENERAL, small_library


@pytest.fixture
def library_of(tmp_path):
    def make(**templates):
        files = {
            f"tasks/{name}.toml": f'title = "{name.capitalize()}"\nsystem = "test"\n{body}'
            for name, body in templates.items()
        }
        library = small_library(tmp_path, {**files, "sheets/general.toml": GENERAL + CLEARANCES})
        assert [str(p) for p in library.problems] == []
        return library

    return make
