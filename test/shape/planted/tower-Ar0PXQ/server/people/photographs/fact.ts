import type { Fact as Fact0 } from '../../stock/catalogue/fact'
import type { Fact as Fact1 } from '../../people/vitals/fact'
export type Fact = Fact0
