-- What is due, of many practices at once, for an engine that reads the records where they lie.
--
-- Tables it asks for (test/scale/README.md says how they are made):
--   asked    as_of
--   entries  practice, and the keys of schemas/record.schema.json that are named below; one row a line of a record
--   items    one row a check of an asset: practice, asset, check_id, done_by, since, every_unit, every_count, counted_from,
--            starting, hours_limit, needs_fresh, by_new
--   worn     what a case on a machine with a circuit and an agent ('' where it is not said) wears: practice, machine, circuit, agent, asset
--   days     the practice's calendar: practice, day, is_open, open_number (open days up to and including it), ends_at_ms
--
-- Result: one row an item. The state 'later' is what holdfast parts into soon and ok.
WITH
-- A correction cannot itself be cancelled.
cancelled AS (
  SELECT practice, entry AS id FROM entries WHERE kind = 'correct'
  EXCEPT
  SELECT practice, id FROM entries WHERE kind = 'correct'
),
-- A bare date counts as the end of that day in the practice's zone, but never after it was entered.
timed AS (
  SELECT e.*, CAST(substr(e."on", 1, 10) AS DATE) AS done_on,
    epoch_ms(CAST(e."at" AS TIMESTAMPTZ)) AS at_ms,
    CASE WHEN length(e."on") = 10 THEN least(d.ends_at_ms, epoch_ms(CAST(e."at" AS TIMESTAMPTZ)))
      ELSE epoch_ms(CAST(e."on" AS TIMESTAMPTZ)) END AS on_ms
  FROM entries e
  CROSS JOIN asked
  LEFT JOIN days d ON d.practice = e.practice AND d.day = CAST(substr(e."on", 1, 10) AS DATE)
  WHERE e.kind <> 'correct' AND CAST(substr(e."on", 1, 10) AS DATE) <= asked.as_of
    AND NOT EXISTS (SELECT 1 FROM cancelled c WHERE c.practice = e.practice AND c.id = e.id)
),
-- The order of the record: on, at, station, line.
done AS (
  SELECT *, row_number() OVER (PARTITION BY practice ORDER BY on_ms, at_ms, station, n) AS ord FROM timed
),
answers AS (
  SELECT i.practice, i.asset, i.check_id, d.ord, d.done_on, d.result
  FROM items i JOIN done d ON d.practice = i.practice AND d.asset = i.asset AND d."check" = i.check_id
  WHERE d.kind = 'sign_off'
  UNION ALL
  -- A pass with the pop-off left shut does not count.
  SELECT i.practice, i.asset, i.check_id, d.ord, d.done_on, d.result
  FROM items i JOIN done d ON d.practice = i.practice AND d.circuit = i.asset
  WHERE d.kind = 'hold' AND i.done_by = 'hold' AND (d.result = 'fail' OR d.pop_off = 'open')
  UNION ALL
  SELECT i.practice, i.asset, i.check_id, d.ord, d.done_on, d.result
  FROM items i JOIN done d ON d.practice = i.practice AND d.supply = i.asset
  WHERE d.kind = 'supply_hold' AND i.done_by = 'supply_hold'
  UNION ALL
  -- Weighing never renews; only a fresh one answers a check on what was gained.
  SELECT i.practice, i.asset, i.check_id, d.ord, d.done_on, 'pass'
  FROM items i JOIN done d ON d.practice = i.practice AND d.asset = i.asset
  WHERE d.kind = 'reading' AND CASE WHEN i.by_new THEN d.new ELSE i.done_by = 'reading' END
),
answered AS (
  SELECT practice, asset, check_id,
    max(ord) FILTER (WHERE result = 'pass') AS pass_ord,
    arg_max(done_on, ord) FILTER (WHERE result = 'pass') AS last_done_on,
    max(ord) FILTER (WHERE result = 'fail') AS fail_ord,
    arg_max(done_on, ord) FILTER (WHERE result = 'fail') AS last_failed_on
  FROM answers GROUP BY practice, asset, check_id
),
fresh AS (
  SELECT practice, asset, max(ord) AS ord FROM done WHERE kind = 'reading' AND new GROUP BY practice, asset
),
-- Withdrawn: a withdrawal after the last return.
returned AS (
  SELECT practice, asset, max(ord) AS ord FROM done WHERE kind = 'return' GROUP BY practice, asset
),
withdrawn AS (
  SELECT DISTINCT d.practice, d.asset
  FROM done d LEFT JOIN returned r ON r.practice = d.practice AND r.asset = d.asset
  WHERE d.kind = 'withdraw' AND d.ord > coalesce(r.ord, 0)
),
standing AS (
  SELECT i.*, a.pass_ord, a.last_done_on, coalesce(a.last_done_on, i.since) AS base,
    CASE WHEN a.fail_ord > coalesce(a.pass_ord, 0) THEN a.last_failed_on END AS failed_on,
    greatest(coalesce(a.pass_ord, 0), coalesce(f.ord, 0)) AS renewed_ord,
    w.asset IS NOT NULL AS is_withdrawn
  FROM items i
  LEFT JOIN answered a ON a.practice = i.practice AND a.asset = i.asset AND a.check_id = i.check_id
  LEFT JOIN fresh f ON f.practice = i.practice AND f.asset = i.asset
  LEFT JOIN withdrawn w ON w.practice = i.practice AND w.asset = i.asset
),
-- Hours in use since the last renewal; a canister that was never marked new has none that are known.
used AS (
  SELECT s.practice, s.asset, s.check_id, s.hours_limit, d.done_on, d.ord,
    sum(d.minutes) OVER (PARTITION BY s.practice, s.asset, s.check_id ORDER BY d.ord) / 60.0 AS hours
  FROM standing s
  JOIN worn w ON w.practice = s.practice AND w.asset = s.asset
  JOIN done d ON d.practice = w.practice AND d.kind = 'usage' AND d.machine = w.machine AND d.circuit = w.circuit
    AND coalesce(d.agent, '') = w.agent
  WHERE s.hours_limit IS NOT NULL AND d.ord > s.renewed_ord AND NOT (s.needs_fresh AND s.renewed_ord = 0)
),
worn_out AS (
  SELECT practice, asset, check_id, max(hours) AS hours,
    min(done_on) FILTER (WHERE ord = first_ord) AS reached_on
  FROM (SELECT u.*, min(ord) FILTER (WHERE hours >= hours_limit * (1 - 1e-9))
          OVER (PARTITION BY practice, asset, check_id) AS first_ord FROM used u) u
  GROUP BY practice, asset, check_id
),
-- The n-th date is always anchor + n × interval, so that month ends clamp from the anchor.
steps AS (SELECT unnest(range(0, 4000)) AS n),
grid AS (
  SELECT s.practice, s.asset, s.check_id, min(CAST(s.starting + CASE s.every_unit
      WHEN 'days' THEN to_days(CAST(steps.n * s.every_count AS INTEGER))
      WHEN 'weeks' THEN to_days(CAST(steps.n * s.every_count * 7 AS INTEGER))
      WHEN 'months' THEN to_months(CAST(steps.n * s.every_count AS INTEGER))
      ELSE to_months(CAST(steps.n * s.every_count * 12 AS INTEGER)) END AS DATE)) AS next_on
  FROM standing s CROSS JOIN steps
  WHERE s.counted_from = 'calendar' AND s.every_unit <> 'open_days' AND steps.n * s.every_count < 4000
    AND (s.base IS NULL OR CAST(s.starting + CASE s.every_unit
      WHEN 'days' THEN to_days(CAST(steps.n * s.every_count AS INTEGER))
      WHEN 'weeks' THEN to_days(CAST(steps.n * s.every_count * 7 AS INTEGER))
      WHEN 'months' THEN to_months(CAST(steps.n * s.every_count AS INTEGER))
      ELSE to_months(CAST(steps.n * s.every_count * 12 AS INTEGER)) END AS DATE) > s.base)
  GROUP BY s.practice, s.asset, s.check_id
),
-- Open days are counted on the practice's calendar.
open_days AS (
  SELECT s.practice, s.asset, s.check_id, n.day AS next_on
  FROM standing s
  JOIN days b ON b.practice = s.practice AND b.day = s.base
  LEFT JOIN days g ON g.practice = s.practice AND g.day = s.starting
  JOIN days n ON n.practice = s.practice AND n.is_open AND n.open_number = b.open_number + s.every_count
    - CASE WHEN s.counted_from = 'calendar' THEN (b.open_number - g.open_number) % s.every_count ELSE 0 END
  WHERE s.every_unit = 'open_days' AND (s.counted_from = 'last_done' OR s.base >= s.starting)
),
dated AS (
  SELECT s.*, u.reached_on,
    CASE WHEN s.hours_limit IS NOT NULL AND NOT (s.needs_fresh AND s.renewed_ord = 0) THEN coalesce(u.hours, 0) END AS hours, CASE
    WHEN s.every_unit IS NULL THEN NULL
    WHEN s.counted_from = 'calendar' AND (s.base IS NULL OR s.base < s.starting) THEN s.starting
    WHEN s.every_unit = 'open_days' THEN o.next_on
    WHEN s.counted_from = 'calendar' THEN g.next_on
    WHEN s.every_unit = 'days' THEN CAST(s.base + to_days(CAST(s.every_count AS INTEGER)) AS DATE)
    WHEN s.every_unit = 'weeks' THEN CAST(s.base + to_days(CAST(s.every_count * 7 AS INTEGER)) AS DATE)
    WHEN s.every_unit = 'months' THEN CAST(s.base + to_months(CAST(s.every_count AS INTEGER)) AS DATE)
    ELSE CAST(s.base + to_months(CAST(s.every_count * 12 AS INTEGER)) AS DATE) END AS next_on
  FROM standing s
  LEFT JOIN worn_out u ON u.practice = s.practice AND u.asset = s.asset AND u.check_id = s.check_id
  LEFT JOIN grid g ON g.practice = s.practice AND g.asset = s.asset AND g.check_id = s.check_id
  LEFT JOIN open_days o ON o.practice = s.practice AND o.asset = s.asset AND o.check_id = s.check_id
)
SELECT practice, asset, check_id, CAST(last_done_on AS VARCHAR) AS last_done_on, CAST(failed_on AS VARCHAR) AS failed_on,
  CAST(least(failed_on, reached_on, next_on) AS VARCHAR) AS due_on, hours,
  CASE
    WHEN is_withdrawn THEN 'withdrawn'
    WHEN failed_on IS NOT NULL THEN 'overdue'
    WHEN least(reached_on, next_on) < as_of THEN 'overdue'
    WHEN least(reached_on, next_on) = as_of THEN 'due'
    ELSE 'later' END AS state
FROM dated CROSS JOIN asked
ORDER BY practice, asset, check_id
