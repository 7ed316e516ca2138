/** Dates and times. Whatever is not plainly right is left to the parser. */
import { at, MINUS, moveTo, twoDigits } from './bytes';

const COLON: u8 = 0x3a;
const PLUS: u8 = 0x2b;
const LETTER_T: u8 = 0x54;
const DAY_MS: f64 = 86_400_000;
const MINUTE_MS: i32 = 60_000;

/** The last date, or that of the last time, as YYYYMMDD. */
export let date: i32 = 0;
/** The last time, since 1970. */
export let ms: f64 = 0;

/** The bytes YYYY-MM- and DD of the last date that was read anew, and its days since 1970. */
let seenMonth: u64 = 0;
let seenDay: u16 = 0;
let seenDays: i32 = 0;
/** 0: none was. */
let seenDate: i32 = 0;

/** YYYY-MM-DD */
export function calendarDate(): bool {
  // Most lines bear the date of the line before.
  const isSeen = seenDate !== 0 && load<u64>(at) === seenMonth && load<u16>(at + 8) === seenDay;
  if (!isSeen && !newDate()) return false;
  date = seenDate;
  moveTo(at + 10);
  return true;
}

function newDate(): bool {
  const century = twoDigits(at);
  const ofCentury = twoDigits(at + 2);
  const month = twoDigits(at + 5);
  const day = twoDigits(at + 8);
  const year = century * 100 + ofCentury;
  if (century < 0 || ofCentury < 0 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month))
    return false;
  if (load<u8>(at + 4) !== MINUS || load<u8>(at + 7) !== MINUS) return false;
  seenMonth = load<u64>(at);
  seenDay = load<u16>(at + 8);
  seenDate = year * 10_000 + month * 100 + day;
  seenDays = dayNumber(year, month, day);
  return true;
}

/** An RFC 3339 time with an offset. */
export function instant(): bool {
  if (!calendarDate()) return false;
  const hour = twoDigits(at + 1);
  const minute = twoDigits(at + 4);
  const second = twoDigits(at + 7);
  const sign = load<u8>(at + 9);
  const offsetHour = twoDigits(at + 10);
  const offsetMinute = twoDigits(at + 13);
  if (min(min(hour, minute), min(second, min(offsetHour, offsetMinute))) < 0) return false;
  if (max(hour, offsetHour) > 23 || max(max(minute, second), offsetMinute) > 59) return false;
  if (load<u8>(at) !== LETTER_T || load<u8>(at + 3) !== COLON || load<u8>(at + 6) !== COLON) return false;
  if ((sign !== PLUS && sign !== MINUS) || load<u8>(at + 12) !== COLON) return false;
  const offset = (offsetHour * 60 + offsetMinute) * (sign === MINUS ? -MINUTE_MS : MINUTE_MS);
  const ofDay = (hour * 60 + minute) * MINUTE_MS + second * 1000;
  ms = (seenDays as f64) * DAY_MS + ((ofDay - offset) as f64);
  moveTo(at + 15);
  return true;
}

function daysIn(year: i32, month: i32): i32 {
  if (month === 2) return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** Days since 1970-01-01 in the Gregorian calendar, carried back before it was made. */
function dayNumber(year: i32, month: i32, day: i32): i32 {
  // Years from March on, so that the leap day is the last; 400 years later, so that nothing below zero is divided.
  const y = (month <= 2 ? year - 1 : year) + 400;
  const era = y / 400;
  const yearOfEra = y % 400;
  const dayOfYear = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
  const dayOfEra = yearOfEra * 365 + yearOfEra / 4 - yearOfEra / 100 + dayOfYear;
  return (era - 1) * 146_097 + dayOfEra - 719_468;
}
