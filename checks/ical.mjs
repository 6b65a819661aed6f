// Prints the events of an iCalendar file as ical.js reads them, as JSON.
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const root = new ICAL.Component(ICAL.parse(readFileSync(process.argv[2], "utf8")));
const time = (t) => t && { text: t.toString(), date: t.isDate, zone: t.zone ? t.zone.tzid : null };
console.log(JSON.stringify({
  name: root.name,
  version: root.getFirstPropertyValue("version"),
  product: root.getFirstPropertyValue("prodid"),
  events: root.getAllSubcomponents("vevent").map((c) => {
    const e = new ICAL.Event(c);
    return {
      uid: e.uid,
      summary: e.summary,
      description: e.description,
      location: e.location,
      start: time(e.startDate),
      end: time(e.endDate),
      stamp: time(c.getFirstPropertyValue("dtstamp")),
      sequence: e.sequence,
      categories: c.getAllProperties("categories").flatMap((p) => p.getValues()),
    };
  }),
}));
