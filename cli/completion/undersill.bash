# Completion of undersill for bash: source this file, or install it as
# bash-completion's completions/undersill. It leans on nothing but bash.

_undersill_options() {
    case $1 in
    example) echo --list --quiet --help ;;
    check) echo --cases --output --quiet --help ;;
    solve) echo --accuracy --cases --format --output --quiet --without-apron --help ;;
    draw) echo --cases --format --output --quiet --water --what --width --help ;;
    converge) echo --chart --format --output --quiet --rungs --unknowns --water --help ;;
    depth) echo --accuracy --cases --chart --format --output --quiet --wall --with --help ;;
    verify) echo --chart --format --output --quiet --threads --help ;;
    *) echo --help --version ;;
    esac
}

# Values of option $2 of command $1, where they can be listed.
_undersill_values() {
    case $1:$2 in
    solve:--format | converge:--format | depth:--format | verify:--format) echo text json csv ;;
    converge:--rungs) echo 2 3 4 5 6 7 8 ;;
    converge:--unknowns) echo 100000 400000 4000000 ;;
    verify:--threads) echo 1 2 4 8 ;;
    draw:--format) echo png svg pdf ;;
    draw:--what) echo net uplift exit section ;;
    draw:--width) echo 900 1600 3000 6000 ;;
    solve:--accuracy | depth:--accuracy) echo 5% 1% 0.5% 0.1% 0.01% ;;
    esac
}

_undersill_files() {
    compgen -d -- "$1"
    compgen -f -X '!*.yaml' -- "$1"
}

# Water cases of the section file on the line, as the tool itself reads them.
# compgen -W would run what a stranger wrote into a name: only plain names pass.
_undersill_waters() {
    local word
    for word in "${COMP_WORDS[@]:2}"; do
        if [[ $word == *.yaml && -f $word ]]; then
            "${COMP_WORDS[0]}" check --quiet "$word" 2>/dev/null |
                LC_ALL=C sed -n '/^Water cases/,/^$/s/^  \([A-Za-z0-9_.-]*\): .*/\1/p'
        fi
    done
}

_undersill() {
    local command=${COMP_WORDS[1]} word=${COMP_WORDS[COMP_CWORD]} found=''
    local before=${COMP_WORDS[COMP_CWORD - 1]}
    # Bash parts --name=value into three words.
    if [[ $word == = ]]; then
        word=''
    elif [[ $before == = ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    COMPREPLY=()
    if [[ $COMP_CWORD -eq 1 ]]; then
        found=$(compgen -W "example check solve draw converge depth verify help $(_undersill_options)" \
            -- "$word")
    elif [[ $before == --output || $before == -o || $before == --chart ]]; then
        compopt -o filenames 2>/dev/null
        found=$(compgen -f -- "$word")
    elif [[ $command =~ ^(check|solve|draw|depth)$ && $before == --cases ]]; then
        compopt -o filenames 2>/dev/null
        found=$(compgen -d -- "$word"; compgen -f -X '!*.csv' -- "$word")
    elif [[ $command =~ ^(draw|converge)$ && $before == --water ]]; then
        found=$(compgen -W "$(_undersill_waters)" -- "$word")
    elif [[ $before == --* && -n $(_undersill_values "$command" "$before") ]]; then
        found=$(compgen -W "$(_undersill_values "$command" "$before")" -- "$word")
    elif [[ $word == -* ]]; then
        found=$(compgen -W "$(_undersill_options "$command")" -- "$word")
    elif [[ $command == help ]]; then
        found=$(compgen -W "example check solve draw converge depth verify" -- "$word")
    elif [[ $command == example ]]; then
        found=$(compgen -W "$("${COMP_WORDS[0]}" example --list 2>/dev/null | sed 's/ .*//')" \
            -- "$word")
    elif [[ $command != verify ]]; then
        compopt -o filenames 2>/dev/null
        found=$(_undersill_files "$word")
    fi
    if [[ -n $found ]]; then
        mapfile -t COMPREPLY <<<"$found"
    fi
}

complete -F _undersill undersill
