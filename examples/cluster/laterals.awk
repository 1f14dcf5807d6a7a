# An invented city: a job a line, one lateral each. No such street, firm or survey exists.
#   awk -v jobs=100000 -f laterals.awk > jobs.jsonl
# `sound` percent of them (60) have nothing to mend, `-v sound=0` none; the others one to three defects.
# The n-th lateral is the same however many are asked for. As in every survey a few lines hold a slip: each 4999th job has a
# bore without its unit.

# Minimal standard generator (Park, Miller 1988): whole numbers below 2^31 are exact in every awk.
function start(number) { state = (number * 48271 + 11) % 2147483647; below(2); below(2); below(2) }
function below(n) { state = (state * 16807) % 2147483647; return int(state / 2147483647 * n) }
function one_of(list,    parts) { return parts[1 + below(split(list, parts, "|"))] }

function defect(id, at,    kind, more) {
  kind = one_of("fissure|fissure|fissure|displaced joint|displaced joint|root intrusion|root intrusion|infiltration|break|deformation")
  if (below(60) == 0) kind = "collapse"
  if (kind == "fissure") more = sprintf(", \"to\": \"%.2f m\", \"size\": \"%d mm\", \"clock\": \"10-2\"", at + below(60) / 100, 1 + below(4))
  if (kind == "displaced joint") more = (below(15) ? sprintf(", \"size\": \"%d mm\"", 4 + below(18)) : "") ", \"clock\": \"12-12\""
  if (kind == "root intrusion") more = sprintf(", \"size\": \"%d %%\"", 5 + below(25))
  if (kind == "infiltration") more = sprintf(", \"inflow\": \"%s\"", one_of("sweating|dripping|dripping|running"))
  if (kind == "break") more = sprintf(", \"size\": \"%d mm\"", 8 + below(30)) (below(3) ? ", \"surrounding_sound\": true" : "")
  if (kind == "deformation") more = sprintf(", \"to\": \"%.2f m\", \"size\": \"%d %%\"", at + 0.4, 4 + below(18))
  return sprintf("{\"id\": \"%s\", \"at\": \"%.2f m\", \"kind\": \"%s\"%s}", id, at, kind, more)
}

function defects(length_m, count,    i, at, text) {
  at = 1.5
  for (i = 1; i <= count; i++) {
    at += 0.8 + below(300) / 100
    if (at > length_m - 2) break
    text = text (i > 1 ? ", " : "") defect("D" i, at)
  }
  return text
}

BEGIN {
  if (jobs == "") jobs = 1000
  if (sound == "") sound = 60
  split("1 1 1 1 1 1 1 1 1 2 2 2 2 2 3 3 3", counts, " ")
  for (n = 1; n <= jobs; n++) {
    start(n)
    length_m = 7 + below(1500) / 100
    bore = one_of("100|100|100|100|125|150|150|200") (n % 4999 ? " mm" : "")
    printf "{\"patchwright_job\": 1, \"reference\": \"L-%06d\", \"title\": \"%d %s (invented)\", \"certainty\": \"survey\", ", \
      n, 1 + below(180), one_of("Sample Street|Example Lane|Model Row|Pattern Close|Specimen Road")
    printf "\"site\": {\"travel\": \"%d min\", \"air_temperature\": \"%d C\"}, ", 15 + below(30), 8 + below(14)
    printf "\"runs\": [{\"id\": \"A\", \"from\": \"IC\", \"to\": \"sewer\", \"length\": \"%.2f m\", \"bore\": \"%s\", \"material\": \"%s\", ", \
      length_m, bore, one_of("clay|clay|clay|concrete|PVC-U")
    printf "\"depth\": \"%.2f m\", \"ground_temperature\": \"%d C\", \"access\": [\"IC\"], \"traffic\": \"none\", ", \
      0.8 + below(180) / 100, 8 + below(8)
    printf "\"flow\": {\"inflow\": \"0.01 l/s\", \"storage\": \"60 l\"}, \"defects\": [%s]}], ", \
      below(100) < sound ? "" : defects(length_m, counts[1 + below(17)])
    printf "\"dig\": {\"surface\": \"%s\", \"soil\": \"B\"}}\n", one_of("grass|block|asphalt|concrete")
  }
}
