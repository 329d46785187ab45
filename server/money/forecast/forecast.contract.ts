import type { Currency, Minor } from '#kernel/money'
import type { Forecast } from './forecast.rules'

export interface ForecastFrame extends Forecast {
  currency: Currency
  targetMinor: Minor
  /** Lots that are still drafts and are not reckoned with. */
  drafts: number[]
}
