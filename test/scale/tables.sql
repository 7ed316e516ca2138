-- The tables of due.sql where the practices of a group lie in one folder: $GROUP/PRACTICE/record/STATION/YEAR.jsonl.
CREATE TABLE asked AS SELECT DATE '$AS_OF' AS as_of;
CREATE TABLE entries AS
  SELECT split_part(substr(filename, length('$GROUP') + 2), '/', 1) AS practice, * EXCLUDE filename
  FROM read_json('$GROUP/*/record/*/*.jsonl', format = 'newline_delimited', filename = true, columns = {
    id: 'VARCHAR', "at": 'VARCHAR', "on": 'VARCHAR', station: 'VARCHAR', n: 'BIGINT', kind: 'VARCHAR', asset: 'VARCHAR',
    "check": 'VARCHAR', circuit: 'VARCHAR', machine: 'VARCHAR', supply: 'VARCHAR', result: 'VARCHAR', pop_off: 'VARCHAR',
    new: 'BOOLEAN', minutes: 'DOUBLE', agent: 'VARCHAR', entry: 'VARCHAR' });
CREATE TABLE items AS SELECT * FROM read_json('$GROUP/items.jsonl', format = 'newline_delimited', columns = {
  practice: 'VARCHAR', asset: 'VARCHAR', check_id: 'VARCHAR', done_by: 'VARCHAR', since: 'DATE', every_unit: 'VARCHAR',
  every_count: 'BIGINT', counted_from: 'VARCHAR', starting: 'DATE', hours_limit: 'DOUBLE', needs_fresh: 'BOOLEAN',
  by_new: 'BOOLEAN' });
CREATE TABLE worn AS SELECT * FROM read_json('$GROUP/worn.jsonl', format = 'newline_delimited', columns = {
  practice: 'VARCHAR', machine: 'VARCHAR', circuit: 'VARCHAR', agent: 'VARCHAR', asset: 'VARCHAR' });
CREATE TABLE days AS SELECT * FROM read_json('$GROUP/days.jsonl', format = 'newline_delimited', columns = {
  practice: 'VARCHAR', day: 'DATE', is_open: 'BOOLEAN', open_number: 'BIGINT', ends_at_ms: 'BIGINT' });
