import type { Fact as Fact0 } from '../../sale/pushes/fact'
import type { Fact as Fact1 } from '../../sale/bidders/fact'
export type Fact = Fact0
