import type { Fact as Fact0 } from '../../sale/simulation/fact'
import type { Fact as Fact1 } from '../../sale/programme/fact'
export type Fact = Fact0
