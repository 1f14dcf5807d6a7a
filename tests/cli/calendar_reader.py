#!/usr/bin/env python3
"""calendar_reader.py PROGRAM EXAMPLES: reads the week's calendar with icalendar (Debian's python3-icalendar), a reader of RFC 5545
that shares nothing with what wrote it, and holds every event to the same week as JSON. One job has a title and names of
every letter that the format treats in a way of its own. Prints what differs; exit status 1 if anything does."""
import json
import os
import subprocess
import sys
import tempfile

import icalendar

TITLE = 'Hof; "Süd", Haus 3\\4: 排水 ' + "sehr lange Zeile mit Umlauten äöüß, " * 4 + "Ende"
CUSTOMER = "Müller, Söhne; & Co \\ Erben"
ADDRESS = "Gasse 1, Hinterhaus; 2. Stock"

program, examples = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
wrong = []


def same(what, got, expected):
    if got != expected:
        wrong.append(f"{what}: {got!r}, not {expected!r}")


def run(*words):
    done = subprocess.run([program, "week", *words], capture_output=True)
    if done.returncode != 0:
        sys.exit(f"status {done.returncode}: {done.stderr.decode()}")
    return done.stdout


def site(job):
    return job.get("customer", {}).get("site_address") or job.get("site", {}).get("address", "")


def check(event, job, stop, date, crew):
    name = f"event of {stop['job']}"
    same(f"{name}, title", str(event["SUMMARY"]).endswith(" " + job["title"]), True)
    same(f"{name}, place", str(event["LOCATION"]), site(job))
    for key, time in (("DTSTART", stop["arrive"]), ("DTEND", stop["leave"])):
        same(f"{name}, {key}", event[key].dt.strftime("%Y-%m-%d %H:%M"), f"{date} {time}")
        same(f"{name}, {key} is of the place's clock", event[key].dt.tzinfo, None)
    words = str(event["DESCRIPTION"]).split("\n")
    same(f"{name}, crew and patches", words[0].startswith(f"Crew {crew}. {len(stop['patches'])} patch"), True)
    for patch in stop["patches"]:
        same(f"{name}, patch {patch['id']}", patch["id"] in words[0], True)
    same(f"{name}, customer", words[1], "Customer: " + job["customer"]["name"])
    where = job["site"]["coordinates"]
    same(f"{name}, coordinates", [event["GEO"].latitude, event["GEO"].longitude],
         [float(where[key].split()[0]) for key in ("latitude", "longitude")])
    same(f"{name}, revision", event["SEQUENCE"], stop["revision"])
    same(f"{name}, faults that the reader met", event.errors, [])


with tempfile.TemporaryDirectory() as folder:
    jobs = {}
    files = []
    for name in ("101-kitchen-drain", "102-side-passage", "104-terrace"):
        with open(f"{examples}/week/{name}.json") as file:
            job = json.load(file)
        if name.startswith("102"):
            job["title"], job["reference"] = TITLE, "Ä/102, neu"
            job["customer"].update({"name": CUSTOMER, "site_address": ADDRESS})
        files.append(f"{folder}/{name}.json")
        with open(files[-1], "w") as file:
            json.dump(job, file)
        jobs[job["reference"]] = job
    words = [*files, "--yard", f"{examples}/week/yard.json", "--from", "2026-07-13", "--quiet"]
    calendar_bytes, week = run(*words, "-f", "ics"), json.loads(run(*words, "-f", "json"))

for line in calendar_bytes.split(b"\r\n"):  # RFC 5545, 3.1
    same(f"a line of at most 75 octets: {line!r}", len(line) <= 75, True)
    same(f"no line break of another kind: {line!r}", b"\n" in line or b"\r" in line, False)
    line.decode()  # folded between letters, never inside one

calendar = icalendar.Calendar.from_ical(calendar_bytes)
same("version", calendar["VERSION"], "2.0")
same("maker is named", bool(calendar["PRODID"]), True)
events = list(calendar.walk("VEVENT"))
same("each event has a name of its own", len({str(event["UID"]) for event in events}), len(events))
stops = [(day, stop) for day in week["days"] for stop in day["stops"]]
same("jobs", sorted(stop["job"] for _, stop in stops), sorted(jobs))
same("events", len(events), len(stops))
for event, (day, stop) in zip(events, stops):
    check(event, jobs[stop["job"]], stop, day["date"], day["crew"])

print(*wrong, f"{len(events)} events, {len(wrong)} differences", sep="\n")
sys.exit(bool(wrong) or not events)
