"""Completion in bash, zsh and fish: click's protocol with scripts of our own.

click's own scripts part words at ``=`` and ``:`` in bash, put a blank after ``NAME=``, cut fish's descriptions at a
comma, and lose the quotes of names with blanks.
"""

import os
from typing import Any, ClassVar

from click.shell_completion import (
    BashComplete,
    CompletionItem,
    FishComplete,
    ZshComplete,
    add_completion_class,
    split_arg_string,
)

from donorbase.cli.proposed import OPEN

VARIABLE = "_DONORBASE_COMPLETE"
"""The variable by which a script asks for completions; click makes it of the program's name."""

_BASH = """\
# Needs bash 3.1 or later. For good, put this line into ~/.bashrc:
#   eval "$(donorbase completion bash)"
%(complete_func)s() {
    local IFS=$'\\n' line=${COMP_LINE:0:COMP_POINT} word=${COMP_WORDS[COMP_CWORD]} answer kind value prefix= open=
    local last=${line##*[[:space:]]}
    # Readline takes = and : for the ends of words, so that only what follows them is to be put in.
    case $last in
        *[=:]*) [[ $COMP_WORDBREAKS == *[=:]* ]] && prefix=${last%%"${last##*[=:]}"} ;;
    esac
    COMPREPLY=()
    for answer in $(COMP_LINE=$line %(complete_var)s=bash_complete "$1"); do
        kind=${answer%%%%,*} value=${answer#*,}
        case $kind in
            file) COMPREPLY+=($(compgen -f -- "${last#"$prefix"}")); compopt -o filenames 2>/dev/null; continue ;;
            dir) COMPREPLY+=($(compgen -d -- "${last#"$prefix"}")); compopt -o filenames 2>/dev/null; continue ;;
            open) open=yes ;;
        esac
        value=${value#"$prefix"}
        # A name with blanks is quoted, unless the quote is open already.
        case $word in [\\"\\']*) ;; *) printf -v value %%q "$value" ;; esac
        COMPREPLY+=("$value")
    done
    [[ $open ]] && compopt -o nospace 2>/dev/null
    return 0
}
complete -o nosort -F %(complete_func)s %(prog_name)s 2>/dev/null || complete -F %(complete_func)s %(prog_name)s
"""

_ZSH = """\
#compdef %(prog_name)s
# For good, put these lines into ~/.zshrc:
#   autoload -Uz compinit && compinit
#   eval "$(donorbase completion zsh)"
%(complete_func)s() {
    local -a answers plain plain_told open open_told
    local kind value about
    answers=("${(@f)$(COMP_WORDS="${(F)words[1,CURRENT]}" COMP_CWORD=$((CURRENT-1)) \
%(complete_var)s=zsh_complete ${words[1]} 2>/dev/null)}")
    for kind value about in $answers; do
        [[ $about == _ ]] && about=$value || about="$value  -- $about"
        case $kind in
            plain) plain+=("$value") plain_told+=("$about") ;;
            open) open+=("$value") open_told+=("$about") ;;
            dir) _path_files -/ ;;
            file) _path_files -f ;;
        esac
    done
    (( $#plain )) && compadd -l -V plain -d plain_told -a plain
    (( $#open )) && compadd -l -V open -S '' -d open_told -a open
    return 0
}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then
    %(complete_func)s "$@"
else
    compdef %(complete_func)s %(prog_name)s
fi
"""

_FISH = """\
# For good, write this once into a file that fish reads by itself:
#   donorbase completion fish > ~/.config/fish/completions/donorbase.fish
function %(complete_func)s
    set -l answers (COMP_WORDS=(commandline -cp | string collect) COMP_CWORD=(commandline -ct) \
%(complete_var)s=fish_complete %(prog_name)s 2>/dev/null)
    for answer in $answers
        set -l told (string split --max 1 , -- $answer)
        switch $told[1]
            case dir
                __fish_complete_directories (commandline -ct)
            case file
                __fish_complete_path (commandline -ct)
            case '*'
                echo $told[2]
        end
    end
end
complete --no-files --keep-order --command %(prog_name)s --arguments "(%(complete_func)s)"
"""


class _OptionValues:
    """Values of ``--option=value`` are proposed whole, since the shells replace the whole word."""

    def get_completions(self, args: list[str], incomplete: str) -> list[CompletionItem[str]]:
        """As click finds them, with the option before them where it was typed in one word."""
        found: list[CompletionItem[str]] = super().get_completions(args, incomplete)  # type: ignore[misc]
        option, sign, _ = incomplete.partition("=")
        if sign and option.startswith("-"):
            for item in found:
                item.value = f"{option}={item.value}"
        return found


@add_completion_class
class Bash(_OptionValues, BashComplete):
    """bash gives the line up to the cursor: its own words are parted at signs that ours hold."""

    source_template: ClassVar[str] = _BASH

    def source(self) -> str:
        """The script; it needs no bash of a certain version, so none is looked for."""
        return self.source_template % self.source_vars()

    def get_completion_args(self) -> tuple[list[str], str]:
        """The words before the one that is typed, and that one."""
        line = os.environ["COMP_LINE"]
        words = split_arg_string(line)
        if not words or (line[-1:].isspace() and not line.endswith(words[-1])):
            words.append("")
        return words[1:-1], words[-1]

    def format_completion(self, item: CompletionItem[Any]) -> str:
        """One line: what it is, and the word."""
        return f"{item.type},{item.value}"


@add_completion_class
class Zsh(_OptionValues, ZshComplete):
    """zsh shows a few words on each name."""

    source_template: ClassVar[str] = _ZSH

    def get_completion_args(self) -> tuple[list[str], str]:
        """The words before the one that is typed, and that one; zsh gives a line for each, as it was typed."""
        words = [" ".join(split_arg_string(line)) for line in os.environ["COMP_WORDS"].split("\n")]
        at = int(os.environ["COMP_CWORD"])
        return words[1:at], words[at] if at < len(words) else ""

    def format_completion(self, item: CompletionItem[str]) -> str:
        """Three lines: what it is, the word, and what is told of it."""
        return f"{item.type}\n{item.value}\n{' '.join((item.help or '_').split())}"


@add_completion_class
class Fish(_OptionValues, FishComplete):
    """fish puts no blank after a word that ends with ``=``."""

    source_template: ClassVar[str] = _FISH

    def format_completion(self, item: CompletionItem[str]) -> str:
        """One line: what it is, the word, and after a tab what is told of it."""
        kind = "plain" if item.type == OPEN else item.type
        about = f"\t{' '.join(item.help.split())}" if item.help else ""
        return f"{kind},{item.value}{about}"
