/** The gas law by a library of general use, for checks of figures that come from anaesthesia. */
import { gasConstant, unit } from 'mathjs';

/** L/mol of an ideal gas at 1013.25 hPa. @example molarVolumeL(0) //=> 22.41… */
export function molarVolumeL(celsius: number): number {
  const kelvin = unit(celsius, 'degC').toNumber('K');
  return ((gasConstant.toNumber('J/(mol K)') * kelvin) / unit(1, 'atm').toNumber('Pa')) * 1000;
}
