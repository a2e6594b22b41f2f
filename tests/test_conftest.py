"""A missing outside program is never silent: a failure with CI set, else a skip that is listed at the end."""

from pathlib import Path

import pytest

_ABSENT = "no-such-program-anywhere"


@pytest.fixture
def run(pytester: pytest.Pytester) -> pytest.Pytester:
    """Give a folder with our shared fixtures and three tests, of which one finds what it needs."""
    pytester.makeconftest((Path(__file__).parent / "conftest.py").read_text(encoding="utf-8"))
    pytester.makepyfile(
        f"""
        def test_program(needs_program):
            needs_program({_ABSENT!r})

        def test_library(needs_library):
            needs_library({_ABSENT!r})

        def test_present(needs_program):
            assert needs_program("python3")
        """
    )
    return pytester


@pytest.mark.parametrize("processes", ["0", "1"])
def test_without_ci_it_is_skipped_and_listed(
    run: pytest.Pytester, monkeypatch: pytest.MonkeyPatch, processes: str
) -> None:
    monkeypatch.delenv("CI", raising=False)
    result = run.runpytest("-n", processes)
    result.assert_outcomes(passed=1, skipped=2)
    result.stdout.fnmatch_lines(
        [
            f"*not run, because missing: lib{_ABSENT}*",
            "*::test_library",
            f"*not run, because missing: {_ABSENT}*",
            "*::test_program",
        ]
    )


def test_with_ci_it_is_a_failure(run: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "1")
    result = run.runpytest("-n", "0")
    result.assert_outcomes(passed=1, failed=2)
    result.stdout.fnmatch_lines([f"*needs {_ABSENT}, which this machine does not have*"])


def test_nothing_is_listed_where_nothing_is_missing(run: pytest.Pytester) -> None:
    result = run.runpytest("-n", "0", "-k", "present")
    result.assert_outcomes(passed=1, deselected=2)
    result.stdout.no_fnmatch_line("*not run, because missing*")


def test_an_environment_variable_goes_before_the_path(
    pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHON3", "/opt/elsewhere/python3")
    pytester.makeconftest((Path(__file__).parent / "conftest.py").read_text(encoding="utf-8"))
    pytester.makepyfile(
        """
        def test_path(needs_program):
            assert needs_program("python3") == "/opt/elsewhere/python3"
        """
    )
    pytester.runpytest("-n", "0").assert_outcomes(passed=1)
