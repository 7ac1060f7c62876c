"""`mosaickit completion`: what lets a shell complete commands, options and what they may be, for bash, zsh and fish.

The scripts are written from the parser, so they know all that it takes. They ask no Python when a key is pressed.
"""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterator
from dataclasses import dataclass

from mosaickit.cli.commands import OK, Command

SHELLS = ("bash", "zsh", "fish")


def _options(add: argparse.ArgumentParser) -> None:
    add.add_argument("shell", choices=SHELLS, metavar="SHELL", help="bash, zsh or fish")


def _act(given: argparse.Namespace) -> int:
    print(script(given.shell, given.parser, given.summaries), end="")
    return OK


COMMAND = Command(
    name="completion",
    job="more",
    summary="print what lets your shell complete commands and options",
    examples="""\
  mosaickit completion bash     save what it prints as ~/.local/share/bash-completion/completions/mosaickit
  mosaickit completion zsh      save it as _mosaickit in a folder of $fpath
  mosaickit completion fish     save it as ~/.config/fish/completions/mosaickit.fish""",
    options=_options,
    act=_act,
    writes=False,
)


@dataclass(frozen=True)
class _Option:
    """What a shell needs to know of an option: its names, what it may be, and what it is for."""

    names: tuple[str, ...]
    takes: bool
    choices: tuple[str, ...]
    help: str


def script(shell: str, parser: argparse.ArgumentParser, summaries: dict[str, str]) -> str:
    """Write the script of a shell.

    Parameters
    ----------
    shell : "bash", "zsh" or "fish"
        Which.
    parser : ArgumentParser
        That of the whole command line.
    summaries : dict of str to str
        What each command does, in a line.
    """
    write = {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell]
    parsers = next(action.choices for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    return write({name: tuple(_of(own)) for name, own in parsers.items()}, summaries)


def _of(parser: argparse.ArgumentParser) -> Iterator[_Option]:
    """Give the options of a command; one without names stands for what is typed by itself."""
    for action in parser._actions:
        told = " ".join((action.help or "").split())
        told = told % {**vars(action), "prog": parser.prog} if told else told
        choices = tuple(map(str, action.choices or ()))
        if action.option_strings or choices:
            yield _Option(tuple(action.option_strings), action.nargs != 0, choices, told)


# ---- bash --------------------------------------------------------------------------------------------------

_BASH = """\
# what bash completes after mosaickit; written by `mosaickit completion bash`
_mosaickit() {{
  local current=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} command= word words= line
  for word in "${{COMP_WORDS[@]:1:COMP_CWORD-1}}"; do
    case $word in -*) ;; *) command=$word; break ;; esac
  done
  COMPREPLY=()
  if [ -z "$command" ]; then
    words={commands}
  else
    case "$command $before" in
{values}
    esac
    if [ -z "$words" ]; then
      case "$current" in
        -*) case "$command" in
{options}
            esac ;;
        *) case "$command" in
{alone}
           esac ;;
      esac
    fi
  fi
  while IFS= read -r line; do
    [ -n "$line" ] && COMPREPLY+=("$line")
  done < <(if [ -n "$words" ]; then IFS=$'\\n'; compgen -W "$words" -- "$current"; else compgen -f -- "$current"; fi)
}}
complete -o filenames -F _mosaickit mosaickit
"""


def _lines(words: tuple[str, ...]) -> str:
    """Write words as one word of bash, a line each, as compgen splits and reads them."""
    return (
        "$'"
        + "\\n".join(word.replace("\\", "\\\\\\\\").replace("'", "\\'").replace('"', '\\\\"') for word in words)
        + "'"
    )


def _bash(commands: dict[str, tuple[_Option, ...]], summaries: dict[str, str]) -> str:
    values, options, alone = [], [], []
    for name, own in commands.items():
        for option in own:
            if option.names and option.choices:
                cases = "|".join(f'"{name} {each}"' for each in option.names)
                values.append(f"      {cases}) words={_lines(option.choices)} ;;")
            elif option.choices:
                alone.append(f"          {name}) words={_lines(option.choices)} ;;")
        flags = tuple(each for option in own for each in option.names)
        options.append(f"          {name}) words={_lines(flags)} ;;")
    return _BASH.format(
        commands=_lines((*summaries, "--help", "--version")),
        values="\n".join(values),
        options="\n".join(options),
        alone="\n".join(alone),
    )


# ---- zsh ---------------------------------------------------------------------------------------------------

_ZSH = """\
#compdef mosaickit
# what zsh completes after mosaickit; written by `mosaickit completion zsh`
_mosaickit() {{
  local curcontext="$curcontext" state line
  local -a commands
  commands=(
{commands}
  )
  _arguments -C '--help[say what there is]' '--version[print the version]' '1:command:->command' '*::argument:->rest'
  case $state in
    command) _describe command commands ;;
    rest)
      case $line[1] in
{cases}
      esac ;;
  esac
}}
if [ "$funcstack[1]" = "_mosaickit" ]; then _mosaickit "$@"; else compdef _mosaickit mosaickit; fi
"""


def _for_zsh(text: str) -> str:
    return "".join(f"\\{letter}" if letter in "[]:\\" else letter for letter in text)


def _zsh(commands: dict[str, tuple[_Option, ...]], summaries: dict[str, str]) -> str:
    cases = []
    for name, own in commands.items():
        told = []
        for option in own:
            values = "(" + " ".join(each.replace(" ", "\\ ") for each in option.choices) + ")"
            for flag in option.names:
                what = f"{flag}[{_for_zsh(option.help)}]"
                if option.takes:
                    what += f":value:{values if option.choices else '_files'}"
                told.append(shlex.quote(what))
            if not option.names:
                told.append(shlex.quote(f"1:{_for_zsh(option.help)}:{values}"))
        told.append(shlex.quote("*:file:_files"))
        each = " \\\n          ".join(told)
        cases.append(f"      {name})\n        _arguments \\\n          {each} ;;")
    listed = "\n".join(f"    {shlex.quote(f'{name}:{_for_zsh(said)}')}" for name, said in summaries.items())
    return _ZSH.format(commands=listed, cases="\n".join(cases))


# ---- fish --------------------------------------------------------------------------------------------------


def _for_fish(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def _fish(commands: dict[str, tuple[_Option, ...]], summaries: dict[str, str]) -> str:
    lines = ["# what fish completes after mosaickit; written by `mosaickit completion fish`"]
    for name, said in summaries.items():
        lines.append(f"complete -c mosaickit -f -n __fish_use_subcommand -a {name} -d {_for_fish(said)}")
    for name, own in commands.items():
        here = f"complete -c mosaickit -n '__fish_seen_subcommand_from {name}'"
        for option in own:
            values = " ".join(_for_fish(each) for each in option.choices)
            flags = "".join(f" -l {flag[2:]}" if flag.startswith("--") else f" -s {flag[1:]}" for flag in option.names)
            if option.choices:
                takes = f" -x -a {_for_fish(values)}" if option.names else f" -f -a {_for_fish(values)}"
            else:
                takes = " -r" if option.takes else ""
            lines.append(f"{here}{flags}{takes} -d {_for_fish(option.help)}")
    return "\n".join(lines) + "\n"
