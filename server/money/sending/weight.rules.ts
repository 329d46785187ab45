/** Millimetres: length, width, height. */
export type SizeMm = readonly [number, number, number]

/**
 * What a parcel weighs by its size: cubic centimetres over the divisor give kilograms. The divisor is the carrier's
 * own; 5000 and 6000 are common practice, no source.
 */
export const volumetricGrams = ([length, width, height]: SizeMm, divisor: number): number => Math.ceil((length * width * height) / divisor)

/** Carriers charge for the heavier of the two. */
export const chargeableGrams = (grams: number, size: SizeMm | null, divisor: number): number =>
  size === null ? grams : Math.max(grams, volumetricGrams(size, divisor))

/** "2.4 kg", "900 g". */
export function showGrams(grams: number): string {
  if (grams < 1000) return `${grams} g`
  return `${Math.round(grams) / 1000} kg`
}
