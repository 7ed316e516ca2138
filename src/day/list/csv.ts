/**
 * CSV (RFC 4180) → cells with their places. Our own reader, because a problem must point at the cell: the parsers of the
 * registry give the line and byte of a record, not of a cell.
 */
import type { Source } from '../../inventory/source.ts';
import type { Problem } from '../../problem/problem.ts';
import type { Cell } from './cells.ts';

/** The cells of each line that is not blank, or every quote that is wrong. */
export function parseCsv(source: Source): Cell[][] | Problem[] {
  const { text } = source;
  const separator = separatorOf(text);
  const rows: Cell[][] = [];
  const problems: Problem[] = [];
  let row: Cell[] = [];
  for (let at = 0; at <= text.length; ) {
    const isQuoted = text[at] === '"';
    const cell = isQuoted ? quotedCell(source, at, separator) : plainCell(text, at, separator);
    if ('code' in cell) {
      problems.push(cell);
      at = endOfLine(text, at);
    } else {
      if (!isQuoted && cell.text.includes('"')) problems.push(strayQuote(source, cell));
      row.push(cell);
      at = cell.to;
    }
    if (text[at] === separator) {
      at++;
      continue;
    }
    if (row.some(one => one.text.trim() !== '')) rows.push(row);
    row = [];
    at += text.startsWith('\r\n', at) ? 2 : 1;
  }
  return problems.length > 0 ? problems : rows;
}

/** A semicolon where the first line has one and no comma, as spreadsheets of some countries write. */
function separatorOf(text: string): ',' | ';' {
  const header = /^[^\r\n]*/.exec(text.trimStart())?.[0] ?? '';
  return header.includes(';') && !header.includes(',') ? ';' : ',';
}

function plainCell(text: string, from: number, separator: string): Cell {
  let to = from;
  while (to < text.length && text[to] !== separator && text[to] !== '\n' && text[to] !== '\r') to++;
  return { text: text.slice(from, to), from, to };
}

/** A cell in quotes, in which a quote stands twice. Its stretch takes in the quotes. */
function quotedCell(source: Source, from: number, separator: string): Cell | Problem {
  const { text } = source;
  let to = from + 1;
  for (;;) {
    const quote = text.indexOf('"', to);
    if (quote === -1) {
      return source.problem(
        'list_quote',
        from,
        from + 1,
        'a quote that is never closed',
        'close it, or take it out',
      );
    }
    to = quote + 1;
    if (text[to] !== '"') break;
    to++;
  }
  const next = text[to];
  if (next !== undefined && next !== separator && next !== '\n' && next !== '\r') {
    const message = 'text behind the closing quote of a cell';
    return source.problem('list_quote', to, to + 1, message, 'a quote within a cell stands twice: ""');
  }
  return { text: text.slice(from + 1, to - 1).replaceAll('""', '"'), from, to };
}

function strayQuote(source: Source, { text, from }: Cell): Problem {
  const at = from + text.indexOf('"');
  const remedy = 'put the whole cell in quotes and write the quote twice, or take it out';
  return source.problem(
    'list_quote',
    at,
    at + 1,
    'a quote within a cell that does not begin with one',
    remedy,
  );
}

function endOfLine(text: string, from: number): number {
  const end = text.indexOf('\n', from);
  return end === -1 ? text.length : text[end - 1] === '\r' ? end - 1 : end;
}
