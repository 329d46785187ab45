import type { Fact as Fact0 } from '../../stock/donors/fact'
import type { Fact as Fact1 } from '../../people/photographs/fact'
export type Fact = Fact0
