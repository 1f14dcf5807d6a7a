#!/usr/bin/env bash
# windows_program.sh ZIP PROGRAM: unpacks the zip into a folder with a blank and umlauts in its name and runs the Windows
# program under Wine, beside PROGRAM of this system: same exit status, and the same bytes on standard output and standard
# error. Then what only Windows has. Prints what failed; exit status 1 if anything did.
set -uo pipefail
zip=$(realpath "$1")
here=$(realpath "$2")
sources=$(realpath "$(dirname "$0")/../..")
work=$(mktemp -d)
export LC_ALL=C.UTF-8 WINEDEBUG=-all WINEPREFIX=$sources/build/wine WINEDLLOVERRIDES="mscoree,mshtml="
trap 'wineserver -k; rm -rf "$work"' EXIT

count=0 failed=0
fail() { failed=$((failed + 1)); printf 'FAILED: %s\n' "$*"; }
check() { count=$((count + 1)); "${@:2}" || fail "$1"; }
same() {
  count=$((count + 1))
  cmp -s "$2" "$3" || { fail "$1"; diff -a "$2" "$3" | head -4; }
}
there() { wine "$program" "$@"; }
status() { local want=$1; shift; there "$@" > "$work/out" 2> "$work/err" < /dev/null; [ $? -eq "$want" ]; }
says() { grep -qF -- "$1" "$2" || { head -c 300 "$2"; false; }; }

# The same but for what comes after the ninth digit of a "value" of the working, or one of its sixth decimal, to which it
# is rounded: exp and pow of the C libraries differ in
# their last bit, and the cure is followed over thousands of steps.
nearly_same() {
  count=$((count + 1))
  paste -d '\t' "$2" "$3" | awk -F '\t' '
    $1 == $2 { next }
    $1 !~ /^ *"value": [0-9.e+-]+,?$/ || $2 !~ /^ *"value": [0-9.e+-]+,?$/ { print; exit 1 }
    { a = substr($1, index($1, ":") + 1) + 0; b = substr($2, index($2, ":") + 1) + 0; d = a > b ? a - b : b - a }
    d > 1e-9 * (a > 0 ? a : -a) && d > 1.1e-6 { print; exit 1 }' ||
    fail "$1"
}

# Both programs with these arguments, and standard input from $input.
input=/dev/null
compare=same
both() {
  count=$((count + 1))
  local a b
  there "$@" < "$input" > "$work/there.out" 2> "$work/there.err"
  a=$?
  "$here" "$@" < "$input" > "$work/here.out" 2> "$work/here.err"
  b=$?
  [ $a -eq $b ] || fail "$*: exit status $a, not $b"
  $compare "$*: output" "$work/there.out" "$work/here.out"
  same "$*: messages" "$work/there.err" "$work/here.err"
}

# Each form that the command offers and the Windows program makes.
forms_of() { "$here" "$1" --help | sed -n 's/.*Form of the result: //p' | tr '|' '\n' | grep -vxE 'pdf|png'; }
in_all_forms() { local form; for form in $(forms_of "$1"); do both "$@" -f "$form"; done; }

folder="$work/Büro Müller & Söhne"
mkdir -p "$folder" && cd "$folder" && cmake -E tar xf "$zip" && cd patchwright-* || exit 1
program=$PWD/patchwright.exe
mkdir -p "$WINEPREFIX"  # without it the server that is to stay does not start, and every program makes one anew
wineserver -k  # one that stays: it could not start where files have no room, and would say so in the messages
wineserver -w
wineserver -p
wineboot --init > /dev/null 2>&1
seconds() { printf '   %s checks, %s s\n' "$count" "$SECONDS"; }

echo "Every example, in every form"
for job in examples/demo.json examples/us-slab.json examples/week/1*.json; do
  for command in check daysheet quote plan picklist; do in_all_forms $command "$job" --yard examples/week/yard.json; done
done
for job in examples/demo.json examples/us-slab.json; do
  for command in check daysheet quote "quote --inside" plan picklist why "why price" whatif; do
    # shellcheck disable=SC2086
    set -- $command
    [ "$1" != why ] || compare=nearly_same
    in_all_forms "$1" "$job" "${@:2}"
    compare=same
  done
  for what in run section day cure price felt; do both draw "$job" --what $what; done
  both daysheet "$job" -f html --units us
  both plan "$job" --strict -q
  both record --new "$job"
done
seconds
for form in text json html; do
  both record examples/demo.json examples/demo-record.json -f $form
  both record examples/demo.json examples/demo-record.json --guarantee -f $form
  both learn examples/demo-record.json -f $form
  both now examples/demo.json --at 10:50 --as-planned --order -f $form
done
in_all_forms week examples/week/1*.json --from 2026-07-13 --yard examples/week/yard.json --drive examples/week/drives.csv
for survey in examples/survey*.*; do
  both import "$survey" --depth "1.2 m"
  both import "$survey" --keep-going --with-flow
done
seconds

echo "Commands of the README"
both --help
both --version
for command in daysheet quote plan check picklist draw why whatif week calc import new now record learn completion; do
  both $command --help
done
both calc bend --bore "100 mm" --radius "150 mm" --diameter "70 mm"
both calc energy --bore "4 in" --length "6 ft" --pressure "12 psi" -f json
both calc thickness --help
both new --bore "4 in" --length "30 ft" --material clay --depth "4 ft" --defect "12 ft crack"
for shell in bash zsh fish man; do both completion $shell; done
seconds

echo "Names with blanks and umlauts"
mkdir "Aufträge für Größe ½" && cp examples/demo.json "Aufträge für Größe ½/Straße 7 – Küche.json"
both daysheet "Aufträge für Größe ½/Straße 7 – Küche.json" -f html
both check "Aufträge für Größe ½/fehlt.json"
both new --title "Küche, Übergabeschacht ø 100" --reference "Ж-7"
check "writes to such a name" status 0 quote "Aufträge für Größe ½/Straße 7 – Küche.json" -o "Aufträge für Größe ½/Angebot – Ö.html"
"$here" quote examples/demo.json -f html > "$work/wanted"
same "what it wrote" "$work/wanted" "Aufträge für Größe ½/Angebot – Ö.html"
check "backslashes" status 0 check 'Aufträge für Größe ½\Straße 7 – Küche.json'
check "an output that is the input, by another spelling" status 2 quote examples/demo.json -o 'EXAMPLES\demo.json'
same "the input is whole" examples/demo.json "$sources/examples/demo.json"
there week 'examples\week\1*.json' --from 2026-07-13 --yard examples/week/yard.json -f json > "$work/there.out" 2> /dev/null
"$here" week examples/week/1*.json --from 2026-07-13 --yard examples/week/yard.json -f json > "$work/here.out" 2> /dev/null
same "stars, which no shell here expands" "$work/there.out" "$work/here.out"
"$here" draw examples/demo.json -o "Zeichen ü.png" 2> /dev/null
printf '{"patchwright_yard": 1, "extends": "builtin", "firm": {"logo": "Zeichen ü.png"}}' > "Hof Süd.json"
both quote examples/demo.json --yard "Hof Süd.json" -f html
check "the logo is in it" says "data:image/png;base64,iVBOR" "$work/there.out"
seconds

echo "CRLF"
mkdir crlf && for file in examples/*.json examples/survey*.* examples/week/*; do
  sed 's/$/\r/' "$file" > "crlf/$(basename "$file")"
done
same_as_lf() {
  local arguments=("$@")
  (cd crlf && there "${arguments[@]}" > "$work/there.out" 2> "$work/there.err")
  (cd "$(dirname "$source")" && "$here" "${arguments[@]}" > "$work/here.out" 2> "$work/here.err")
  same "CRLF: $*" "$work/there.out" "$work/here.out"
  same "CRLF, messages: $*" "$work/there.err" "$work/here.err"
}
source=examples/demo.json
for command in check plan quote; do same_as_lf $command demo.json; done
for survey in survey.txt survey-quoted.txt survey.csv survey.xml; do same_as_lf import $survey --depth "1.2 m"; done
same_as_lf record demo.json demo-record.json
source=examples/week/drives.csv
same_as_lf week 101-kitchen-drain.json 102-side-passage.json --from 2026-07-13 --yard yard.json --drive drives.csv -f json
sed 's/"99 mm"/"99 m"/' examples/demo.json > wrong.json && sed 's/$/\r/' wrong.json > crlf/wrong.json
source=wrong.json
same_as_lf check wrong.json
printf 'examples/demo.json\r\nexamples/us-slab.json\r\n' > jobs.txt
input=jobs.txt
both plan --stream
both quote --stream
input=crlf/demo.json
both plan - -f json
input=/dev/null
seconds

echo "UTF-8"
there daysheet examples/demo.json > "$work/there.out" 2> /dev/null
check "signs beyond ASCII" grep -qP '[^\x00-\x7F]' "$work/there.out"
check "valid UTF-8" iconv -f UTF-8 -t UTF-8 -o /dev/null "$work/there.out"
check "no carriage returns" bash -c "! grep -q $'\r' '$work/there.out'"
wine cmd /c "set LC_ALL=& set LANG=& patchwright.exe daysheet examples/demo.json" > "$work/plain.out" 2> /dev/null
same "UTF-8 where nothing says so" "$work/there.out" "$work/plain.out"
script -qec "wine patchwright.exe check 'Aufträge für Größe ½/fehlt.json'" /dev/null > "$work/console" 2>&1 < /dev/null
check "on a console" says "Aufträge für Größe ½/fehlt.json" "$work/console"
seconds

echo "Exit status, and whole or not at all"
check "0: done" status 0 check examples/demo.json
check "1: no such file" status 1 plan nothing.json
check "its words" says "nothing.json: cannot read: No such file or directory" "$work/err"
check "2: no such option" status 2 plan examples/demo.json --nothing
check "3: faults in the job" status 3 plan wrong.json
both plan wrong.json
both plan examples
for name in out.pdf out.png; do
  command=daysheet && [ $name = out.png ] && command=draw
  check "2: $name" status 2 $command examples/demo.json -o $name
  check "its words: $name" says "this build of Patchwright makes no PDF and no PNG" "$work/err"
  check "nothing written: $name" test ! -e $name
done
check "2: -f pdf" status 2 quote examples/demo.json -f pdf
check "a path from the root" status 0 check "$sources/examples/demo.json"
check "week: day sheets as HTML in place of PDF" status 0 week examples/week/101*.json --from 2026-07-13 \
  --yard examples/week/yard.json --daysheets Tagesblätter -o week.ics
"$here" week examples/week/101*.json --from 2026-07-13 --yard examples/week/yard.json --daysheets wanted -f html -o week.html 2> /dev/null
check "the same pages" diff -r Tagesblätter wanted
check "4: --strict" status 4 plan examples/demo.json --strict -q

echo old > kept.html
check "a folder that is not there" status 1 quote examples/demo.json -o nowhere/out.html
check "a folder" status 1 quote examples/demo.json -o examples -f html
check "a folder that cannot be written" status 1 quote examples/demo.json -o /proc/out.html
check "its words" says "/proc/out.html: cannot make a file in its folder" "$work/err"
(trap '' XFSZ && ulimit -f 1 && status 1 quote examples/demo.json -o kept.html)
check "no room: exit status 1" test $? -eq 0
check "no room: its words" says "kept.html: cannot write" "$work/err"
check "no room: the old file is whole" test "$(cat kept.html)" = old
status 3 quote wrong.json -o kept.html
wine cmd /c "ping -n 20 127.0.0.1 > held.html" &
for ((i = 0; i < 50; ++i)); do [ -e held.html ] && break || sleep 0.2; done
check "held by another program" status 1 quote examples/demo.json -o held.html
check "its words" says "held.html: cannot write: it is open in another program" "$work/err"
wait $!
check "held: the old file is whole" says "Pinging" held.html
check "bad input: the old file is whole" test "$(cat kept.html)" = old
check "the device that takes everything" status 0 quote examples/demo.json -f html -o NUL
check "and no file of its name" test ! -e NUL
check "over an old file" status 0 quote examples/demo.json -o kept.html
same "the new file" "$work/wanted" kept.html
check "nothing else left behind" test -z "$(find . -name '.patchwright*')"
seconds

printf '%s checks, %s failed\n' "$count" "$failed"
[ "$failed" -eq 0 ]
