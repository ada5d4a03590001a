import { raw } from "./edits.ts";

/** Values that somebody's export, script or malice may leave in a field. */
export const HOSTILE: readonly unknown[] = [
  ...[
    null,
    true,
    false,
    "",
    " ",
    "x",
    "lot-two",
    "../../etc/passwd",
    "=1+1",
    "<script>alert(1)</script>",
    "'; --",
  ],
  ...["__proto__", "constructor", "toString", "NaN", "Infinity", "undefined", "null", "1e3", "12,5", "0x10"],
  ...[0, 1, -1, 0.5, 1.5, 1e-300, 1e308, -1e308, 2 ** 31, 2 ** 53, -(2 ** 53), 4.9e-324],
  ...["1e999", "-1e999", "-0", "1e-999", "123456789012345678901234567890", "1.0", "1E+2", "NaN", "01", "+1"]
    .map(raw),
  ...[
    "9999-12-31",
    "0000-01-01",
    "2027-02-29",
    "2027-00-10",
    "2027-13-01",
    "2027-1-1",
    "2027-01-18T07:00:00Z",
  ],
  ...[
    "2100-12-31",
    "1990-01-01",
    "2027-03-28T02:30",
    "2027-03-14T02:30",
    "2027-10-31T01:30",
    "2027-01-18T24:00",
  ],
  ...["24:00", "00:00", "25:61", "7:00"],
  ...[[], {}, [[]], [{}], [null], [0], [""], { id: "bed" }, { raw: 1 }, Array.from({ length: 400 }, () => 0)],
  ...[
    "x".repeat(100_000),
    "\u0000",
    "\ud800",
    "\u202emalt",
    "🍺".repeat(60),
    "e\u0301",
    "ﬀ",
    "\u2028",
    "I\u0307",
  ],
];

/** Names a member may get: meaningful to the language, nearly right, or absurd. */
export const NAMES = [
  "__proto__",
  "constructor",
  "prototype",
  "toString",
  "hasOwnProperty",
  "length",
  "id",
  "",
  "0",
  "massKg",
];

/** Ids that fit the format and that careless code stumbles over. */
export const IDS = [
  "constructor",
  "prototype",
  "valueof",
  "0",
  "-",
  "--",
  "1e5",
  "tail-",
  "null",
  "a".repeat(40),
  "z".repeat(35),
];

/** Zones whose clocks behave oddly, and some that there are not. */
export const ZONES = [
  ...["UTC", "Europe/Dublin", "America/New_York", "America/St_Johns", "Australia/Lord_Howe", "Pacific/Apia"],
  ...[
    "Asia/Kathmandu",
    "Pacific/Kiritimati",
    "Africa/Casablanca",
    "America/Scoresbysund",
    "Mars/Olympus",
    "GMT+25",
  ],
];

/** Clocks go forward or back on these days somewhere; others do not exist or stand at an edge. */
export const DAYS = [
  ...[
    "2027-03-14",
    "2027-03-28",
    "2027-10-31",
    "2027-11-07",
    "2027-04-04",
    "2027-10-03",
    "2028-02-29",
    "2027-12-31",
  ],
  ...["2027-02-29", "2027-06-31", "1989-12-31", "2101-01-01"],
];
