# What zsh itself offers with the script, typed into a zsh of its own: zsh -f zsh_completion.zsh PROGRAM
zmodload zsh/zpty || exit 1
script=$(mktemp) && $1 completion zsh > $script || exit 1
zpty shell zsh -f -i
zpty -w shell "PS1='>' PS2= RPS1= TERM=dumb; autoload -Uz compinit && compinit -D -u; source $script; setopt list_packed no_list_beep; echo rea''dy"
zpty -r -m shell heard '*ready*' || exit 1
bad=0
# expect TYPED COMPLETED: after a tab the line must read so.
expect() {
    local heard
    zpty -n -w shell $'\x15'"$1"$'\t'
    zpty -n -w shell $'\x01echo "<\x05>"\n'
    zpty -r -m shell heard "*"$'\n'"<*>*"
    [[ ${heard//$'\r'/} == *$'\n'"<$2"*">"* ]] || { print -r -- "$1: expected $2, got ${(V)heard}"; bad=1 }
}
expect 'patchwright day' 'patchwright daysheet'
expect 'patchwright calc wat' 'patchwright calc watertest'
expect 'patchwright calc bend --rad' 'patchwright calc bend --radius'
expect 'patchwright draw job.json -f pd' 'patchwright draw job.json -f pdf'
expect 'patchwright draw job.json --format sv' 'patchwright draw job.json --format svg'
zpty -d shell
rm -f $script
exit $bad
