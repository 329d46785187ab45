import type { Fact as Fact0 } from '../../sale/programme/fact'
import type { Fact as Fact1 } from '../../sale/closings/fact'
export type Fact = Fact0
