"""Set up ``.venv`` with the pinned packages, mend what is found half made, and run in it."""

import hashlib
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if os.name == "nt" else "bin")
EXE = ".exe" if os.name == "nt" else ""
PYTHON = SCRIPTS / f"python{EXE}"
UNFINISHED = VENV / "rickyard-install-unfinished"

#: Each set of packages, and the sets that contain it.
SUFFICIENT = {"run": ("run", "docs", "test"), "docs": ("docs", "test"), "test": ("test",)}

HELP = """\
Rickyard: know each lot of hay and feed it to the stock it suits at the least cost.

  python3 start.py demo [--out FOLDER]   show a season program for a made-up farm
  python3 start.py test [PYTEST OPTIONS] check style, types, imports and run the tests;
                                         with --more of more farms and databases,
                                         with --long those that take minutes too
  python3 start.py docs                  build the documentation into the folder site
  python3 start.py lock [--upgrade]      renew the pinned package lists in requirements/

The first run makes the folder .venv beside this file and installs the pinned packages there;
later runs start at once. On Windows write "py start.py" where "python3" is not known.
To begin afresh, delete the folder .venv.
"""

NETWORK_SIGNS = (
    "NewConnectionError",
    "ConnectTimeout",
    "ReadTimeout",
    "Max retries exceeded",
    "Failed to establish a new connection",
    "name resolution",
    "getaddrinfo failed",
    "ProxyError",
    "SSLError",
    "CERTIFICATE_VERIFY_FAILED",
)
NETWORK_ADVICE = (
    "The package index could not be reached. Check the internet connection; behind an office\n"
    "proxy set HTTPS_PROXY, and where the office keeps its own package index set PIP_INDEX_URL.\n"
    "Then run the same command again."
)
NO_WHEEL_ADVICE = (
    "The package index has no ready-made package for this Python and this kind of machine, or\n"
    "could not be reached. Check the internet connection, and try Python 3.11, 3.12 or 3.13 in\n"
    "its 64-bit edition."
)
NO_SPACE_ADVICE = "The disk is full. Make about 1 GB of room, then run the same command again."
OTHER_ADVICE = (
    "The lines above are what pip said. Run the same command again; if it fails the same way,\n"
    "delete the folder .venv and try once more."
)
VENV_ADVICE = (
    "This Python cannot make a virtual environment. On Debian or Ubuntu install it with:\n"
    "  apt install python3-venv\n"
    "(or python{version}-venv for this very Python). Elsewhere install Python from python.org,\n"
    "which carries everything needed. Then run the same command again."
)
READ_ONLY_ADVICE = (
    "The folder that holds start.py cannot be written to, and the packages go into it. Copy it to\n"
    "a folder of your own, and run the same command there."
)
DOLLAR_ADVICE = (
    "There is a $ in the name of the folder that holds start.py or of one it lies in, and what\n"
    "installs packages takes that for something else. Move it to a place without one, and run the\n"
    "same command there."
)
LOCKED_ADVICE = (
    "The folder .venv could not be replaced. Close every program that runs from it, delete the\n"
    "folder by hand, and run the same command again."
)


class CannotContinueError(Exception):
    """A step failed; the message says what to do."""


def child_environment() -> dict[str, str]:
    """Return the environment for everything that runs inside ``.venv``."""
    environment = dict(os.environ)
    # A search path meant for another Python would shadow the pinned packages.
    for name in ("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX"):
        environment.pop(name, None)
    environment.update(
        PIP_USER="0",
        PIP_DISABLE_PIP_VERSION_CHECK="1",
        PYTHONUTF8="1",
        VIRTUAL_ENV=str(VENV),
        PATH=str(SCRIPTS) + os.pathsep + environment.get("PATH", ""),
    )
    return environment


def quiet_step(title: str, command: list[str]) -> tuple[bool, str]:
    """Run a command on one printed line; return whether it went well, and all it said."""
    print(f"{title} ... ", end="", flush=True)
    began = time.monotonic()
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=child_environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    good = done.returncode == 0
    print(f"{'done' if good else 'failed'}, {time.monotonic() - began:.1f} s", flush=True)
    return good, done.stdout


def advice_for(pip_said: str) -> str:
    """Return what a person can do about a failed install."""
    if any(sign in pip_said for sign in NETWORK_SIGNS):
        return NETWORK_ADVICE
    if "No space left" in pip_said or "not enough space" in pip_said:
        return NO_SPACE_ADVICE
    if "No matching distribution" in pip_said:
        return NO_WHEEL_ADVICE
    return OTHER_ADVICE


def fingerprint(which: str) -> str:
    """Return a hash of all that an installed set depends on."""
    digest = hashlib.sha256()
    for path in (ROOT / "requirements" / f"{which}.txt", ROOT / "pyproject.toml"):
        digest.update(path.read_bytes())
    # The folder counts because an editable install and its commands remember where they lie.
    digest.update(f"{sys.implementation.name} {sys.version_info[:2]} {ROOT}".encode())
    return digest.hexdigest()


def stamp(which: str) -> Path:
    """Return the file that says a set is completely installed."""
    return VENV / f"rickyard-{which}-installed"


def is_installed(which: str) -> bool:
    """Return whether a set is there, complete and up to date."""
    if UNFINISHED.exists() or not PYTHON.exists():
        return False
    return (
        any(
            stamp(name).is_file() and stamp(name).read_text(encoding="utf-8") == fingerprint(name)
            for name in SUFFICIENT[which]
        )
        and packages_are_whole()
    )


def packages_are_whole() -> bool:
    """Return whether the packages that ``.venv`` says it holds have all their modules still."""
    pattern = "Lib/site-packages" if os.name == "nt" else "lib/python*/site-packages"
    for record in VENV.glob(f"{pattern}/*.dist-info/RECORD"):
        place = record.parent.parent
        for line in record.read_text(encoding="utf-8").splitlines():
            name = line.split(",", 1)[0]
            if name.endswith(".py") and name.count("/") <= 1 and not (place / name).exists():
                return False
    return True


def venv_is_sound() -> bool:
    """Return whether ``.venv`` is whole and of the Python that runs this."""
    if UNFINISHED.exists() or not PYTHON.exists() or not packages_are_whole():
        return False
    try:
        answer = subprocess.run(
            [str(PYTHON), "-c", "import pip, sys; print(sys.version_info[:2])"],
            env=child_environment(),
            capture_output=True,
            text=True,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
    except OSError:
        return False
    return answer.returncode == 0 and answer.stdout.strip() == str(sys.version_info[:2])


def make_venv() -> None:
    """Make ``.venv`` from nothing, in place of a broken one."""
    version = f"{sys.version_info[0]}.{sys.version_info[1]}"
    try:
        if VENV.exists():
            shutil.rmtree(VENV)
    except OSError as error:
        raise CannotContinueError(f"{error}\n{LOCKED_ADVICE}") from error
    try:
        VENV.mkdir()
        # Whoever ends this halfway leaves a folder that the next run knows for unfinished.
        UNFINISHED.touch()
    except OSError as error:
        raise CannotContinueError(f"{error}\n{READ_ONLY_ADVICE}") from error
    good, said = quiet_step(
        f"Making the folder .venv with Python {version}", [sys.executable, "-m", "venv", str(VENV)]
    )
    if not good:
        # Debian leaves half an environment behind, which would pass for a whole one.
        shutil.rmtree(VENV, ignore_errors=True)
        raise CannotContinueError(f"{said.strip()}\n\n{VENV_ADVICE.format(version=version)}")


def pip_install(title: str, *arguments: str) -> None:
    """Install with the pip of ``.venv``, or say what to do."""
    good, said = quiet_step(title, [str(PYTHON), "-m", "pip", "install", *arguments])
    if not good:
        raise CannotContinueError(f"{said.strip()}\n\n{advice_for(said)}")


def install(which: str) -> None:
    """Bring ``.venv`` to the pinned packages of a set; return at once if it is there already."""
    if is_installed(which):
        return
    if "$" in str(ROOT):
        raise CannotContinueError(DOLLAR_ADVICE)
    if not venv_is_sound():
        make_venv()
    # If the power goes out from here on, the next run sees this file and begins afresh.
    UNFINISHED.touch()
    for name in SUFFICIENT:
        stamp(name).unlink(missing_ok=True)
    lock = ROOT / "requirements" / f"{which}.txt"
    count = len(lock.read_text(encoding="utf-8").splitlines())
    # Only ready-made packages: compiling a solver is not what someone with hay to feed came for.
    pip_install(
        f"Installing the {count} pinned packages for '{which}' (a minute or two)",
        "--only-binary=:all:",
        "-r",
        str(lock),
    )
    pip_install("Installing rickyard", "--no-deps", "--no-build-isolation", "-e", str(ROOT))
    stamp(which).write_text(fingerprint(which), encoding="utf-8")
    UNFINISHED.unlink()


def at_once(extra: list[str]) -> list[str]:
    """Return the options that run tests on all processors, unless the person says how many."""
    chosen = any(word == "-n" or word.startswith(("-n", "--numprocesses")) for word in extra)
    return [] if chosen else ["-n", "auto", "--dist", "worksteal"]


def demo(extra: list[str]) -> int:
    """Show the demonstration farm."""
    install("run")
    command = [str(SCRIPTS / f"rickyard{EXE}"), "demo", *extra]
    if sys.stdin.isatty() and sys.stdout.isatty() and "--serve" not in extra:
        # Somebody sits there: it ends with the farm in their browser, until they press Ctrl-C.
        command.append("--serve")
    # Where the person stands, not where this file lies: that is what --out FOLDER is read from.
    with subprocess.Popen(command, env=child_environment()) as process:
        while True:
            try:
                return process.wait()
            except KeyboardInterrupt:
                # It was told too, and ends by itself: what it leaves behind is whole.
                continue


#: How pytest ends where tests failed, and not for another reason.
SOME_FAILED = 1


def test(extra: list[str]) -> int:
    """Run every check, and say at the end which failed."""
    install("test")
    python = str(PYTHON)
    environment = child_environment()
    # Hundreds of tests start a Python of their own: each would compile the whole package again.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    lint_imports = "from importlinter.cli import lint_imports_command as run; run()"
    failed = []
    for title, command in (
        ("Style (ruff check)", ["-m", "ruff", "check", "."]),
        ("Layout (ruff format)", ["-m", "ruff", "format", "--check", "."]),
        # On all processors: on one alone it takes a sixth of the time of the whole.
        ("Types (mypy)", ["-m", "mypy", "--num-workers", "auto"]),
        ("Direction of imports (import-linter)", ["-c", lint_imports, "--no-logo"]),
    ):
        good, said = quiet_step(title, [python, *command])
        if not good:
            failed.append(title)
            print(said.rstrip(), flush=True)
    print("Tests (pytest)", flush=True)
    command = [python, "-m", "pytest", *at_once(extra), *extra]
    # Writing each assertion out, so that a failure tells its values, takes a twentieth of the
    # whole: it is done for those that failed, which are run again.
    ended = subprocess.run(
        [*command, "--assert=plain"], cwd=ROOT, env=environment, check=False
    ).returncode
    if ended != 0:
        failed.append("Tests (pytest)")
    if ended == SOME_FAILED:
        print("Those that failed once more, with their values:", flush=True)
        again = [*command, "--last-failed", "--last-failed-no-failures=none"]
        subprocess.run(again, cwd=ROOT, env=environment, check=False)
    print(f"Failed: {', '.join(failed)}." if failed else "All five checks are good.", flush=True)
    return 1 if failed else 0


def docs(extra: list[str]) -> int:
    """Build the documentation; a warning is a failure."""
    install("docs")
    good, said = quiet_step(
        "Building the documentation", [str(PYTHON), "-m", "mkdocs", "build", "--strict", *extra]
    )
    if not good:
        raise CannotContinueError(said.strip())
    print(f"Open {ROOT / 'site' / 'index.html'} in a browser.")
    return 0


def lock(extra: list[str]) -> int:
    """Write the lock files anew from ``pyproject.toml``."""
    install("run")
    pip_install("Installing the resolver (uv)", "--only-binary=:all:", "uv")
    resolve = [str(PYTHON), "-m", "uv", "pip", "compile", "pyproject.toml", "--group", "build"]
    # One version of each package for every Python and system: the same numbers everywhere.
    resolve += ["--universal", "--python-version", "3.11", "--fork-strategy", "fewest"]
    # No addresses: the files must serve behind any package index.
    resolve += ["--no-config", "--no-emit-index-url", "--no-header", "--no-annotate", *extra]
    for name, particular in (
        # The tests build the documentation too, so their list holds both others.
        ("test", ["--extra", "test", "--extra", "docs"]),
        ("docs", ["--extra", "docs", "--constraint", "requirements/test.txt"]),
        ("run", ["--constraint", "requirements/test.txt"]),
    ):
        output = f"requirements/{name}.txt"
        good, said = quiet_step(f"Resolving {output}", [*resolve, *particular, "-o", output])
        if not good:
            raise CannotContinueError(said.strip())
    return 0


COMMANDS = {"demo": demo, "test": test, "docs": docs, "lock": lock}


def main(arguments: list[str]) -> int:
    """Run what the arguments ask for; return the exit code."""
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(HELP, end="")
        return 0
    command = COMMANDS.get(arguments[0])
    if command is None:
        print(f'"{arguments[0]}" is not one of: {", ".join(COMMANDS)}.\n', file=sys.stderr)
        print(HELP, end="", file=sys.stderr)
        return 2
    try:
        return command(arguments[1:])
    except CannotContinueError as error:
        print(f"\n{error}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped. Run the same command again to go on.", file=sys.stderr)
        return 130
