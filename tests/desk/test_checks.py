"""The stages of `make test`: run in order, ended by the first that fails, and summed up last."""

import shlex
import sys

import pytest

from wetwing_tools.desk import checks
from wetwing_tools.desk.checks import ROOT, Stage, passes, run_stages, words_of


def stage(name: str, source: str) -> Stage:
    return Stage(name, shlex.join([sys.executable, "-c", source]))


def test_all_pass(capfd: pytest.CaptureFixture[str]) -> None:
    assert run_stages((stage("one", "print('first')"), stage("two", "print('second')"))) == 0
    output = capfd.readouterr().out
    assert output.index("first") < output.index("second") < output.index("Summary")


def test_the_first_failure_ends_the_run(capfd: pytest.CaptureFixture[str]) -> None:
    stages = (
        stage("one", ""),
        stage("two", "raise SystemExit(3)"),
        stage("three", "print('never' + 'more')"),
    )
    assert run_stages(stages) == 1
    output = capfd.readouterr().out
    summary = [line.split()[:2] for line in output.partition("Summary")[2].splitlines() if line]
    assert summary == [["passed", "one"], ["FAILED", "two"], ["not", "run"]]
    assert "nevermore" not in output


def test_a_missing_program_is_a_failure(capfd: pytest.CaptureFixture[str]) -> None:
    assert not passes(Stage("ghost", "no-such-program-here --help"))
    assert "no-such-program-here" in capfd.readouterr().out


def test_a_stage_runs_from_the_root_with_the_projects_own_python(capfd: pytest.CaptureFixture[str]) -> None:
    assert passes(Stage("where", 'python -c "import os, sys; print(os.getcwd(), sys.prefix)"'))
    assert capfd.readouterr().out.split() == [str(ROOT), sys.prefix]


def test_a_pattern_stands_for_its_files() -> None:
    assert words_of("pytest tests/desk/test_c*ecks.py") == ["pytest", "tests/desk/test_checks.py"]


def test_a_pattern_without_files_is_left_for_its_program_to_refuse() -> None:
    assert words_of("node --test tests/none/*.mjs") == ["node", "--test", "tests/none/*.mjs"]


@pytest.mark.parametrize("arguments", [[], ["tset"], ["test", "lint"]])
def test_an_unknown_list_is_refused(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert checks.main(arguments) == 2
    assert "lint,test" in capsys.readouterr().err


def test_every_folder_of_tests_is_run_by_some_stage() -> None:
    commands = " ".join(stage.command for stage in checks.TEST)
    for folder in sorted((ROOT / "tests").iterdir()):
        python_tests = list(folder.rglob("test_*.py")) if folder.is_dir() else []
        if python_tests and f"--ignore=tests/{folder.name}" in commands:
            assert f" tests/{folder.name}" in commands.replace("--ignore=", ""), folder
