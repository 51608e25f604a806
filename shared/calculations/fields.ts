import * as z from 'zod/mini';

/** Fields that several calculations take, with the limits that physics sets, in our own words. */

export const finite = () => z.number();
export const positive = (what = 'must be greater than 0') => z.number().check(z.gt(0, what));
export const notNegative = (what = 'must not be negative') => z.number().check(z.gte(0, what));

/** Degrees Celsius, not below absolute zero. */
export const temperatureC = () => z.number().check(z.gte(-273.15, 'is below absolute zero (-273.15 °C)'));

/** Mean linear expansion; solids lie well inside ±1e-3 per kelvin. */
export const expansionPerK = () =>
  z
    .number()
    .check(
      z.gte(-1e-3, 'is below -1e-3 per K: no solid does that'),
      z.lte(1e-3, 'is above 1e-3 per K: no solid does that'),
    );
