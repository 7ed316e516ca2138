/** The row of the line that is being read. */
import { AGENT, FLAGS } from './layout';

let row: usize = 0;

/** Begins the row at a place, with nothing in it that a line before may have left there. */
export function beginRow(place: usize): void {
  row = place;
  setInteger(FLAGS, 0);
  setInteger(AGENT, 0);
}

/** @param figure - one of those of eight bytes. */
export function setFigure(figure: usize, value: f64): void {
  store<f64>(row + figure, value);
}

/** @param figure - one of those of four bytes. */
export function setInteger(figure: usize, value: i32): void {
  store<i32>(row + figure, value);
}

export function addFlag(flag: i32): void {
  store<i32>(row + FLAGS, load<i32>(row + FLAGS) | flag);
}
