import type { Fact as Fact0 } from '../../sale/bidders/fact'
import type { Fact as Fact1 } from '../../sale/lots/fact'
export type Fact = Fact0
