/** Printing quantities for a person: at most two decimals, never more digits than the thing can be read to. */
import { barFromPsi, poundsFromKg } from './convert.ts';
import type { Kg, Ml, MlPerMin, Psi, Range } from './units.ts';

/** A number with at most `most` decimals and no trailing zeros. @example formatNumber(1.75, 2) //=> '1.75' */
export function formatNumber(value: number, most: 0 | 1 | 2 | 3 = 2): string {
  const scale = 10 ** most;
  return String(Math.round(value * scale * (1 + Number.EPSILON)) / scale);
}

/**
 * A number rounded down, or up, to `most` decimals, binary dust aside: what is left is never printed as more than it is, nor
 * what is needed as less.
 *
 * @example formatToward('down', 7.25, 1) //=> '7.2'
 */
export function formatToward(direction: 'down' | 'up', value: number, most: 0 | 1): string {
  const scale = 10 ** most;
  const whole = Math.round(value * scale * 1e6) / 1e6;
  return String((direction === 'down' ? Math.floor(whole) : Math.ceil(whole)) / scale);
}

/** @example formatWeight(kg(6.8)) //=> '6.8 kg (14.99 lb)' */
export function formatWeight(weight: Kg): string {
  return `${formatNumber(weight, 3)} kg (${formatNumber(poundsFromKg(weight))} lb)`;
}

/** Litres a minute from 1 L/min up, else millilitres. @example formatFlow(mlPerMin(1750)) //=> '1.75 L/min' */
export function formatFlow(flow: MlPerMin): string {
  return flow >= 1000 ? `${formatNumber(flow / 1000)} L/min` : `${formatNumber(flow, 0)} mL/min`;
}

/** Both ends in the unit of the higher one. @example formatFlowRange([mlPerMin(500), mlPerMin(1200)]) //=> '0.5 to 1.2 L/min' */
export function formatFlowRange([low, high]: Range<MlPerMin>): string {
  if (low === high) return formatFlow(low);
  if (high >= 1000) return `${formatNumber(low / 1000)} to ${formatNumber(high / 1000)} L/min`;
  return `${formatNumber(low, 0)} to ${formatNumber(high, 0)} mL/min`;
}

/** @example formatVolume(ml(1000)) //=> '1 L' */
export function formatVolume(volume: Ml): string {
  return volume >= 500 ? `${formatNumber(volume / 1000)} L` : `${formatNumber(volume, 0)} mL`;
}

/** A cylinder's gauge in the unit in which it is read. @example formatGauge(psi(1450), 'psi') //=> '1450 psi' */
export function formatGauge(pressure: Psi, unit: 'psi' | 'bar'): string {
  return unit === 'bar' ? `${formatNumber(barFromPsi(pressure), 1)} bar` : `${formatNumber(pressure, 1)} psi`;
}
