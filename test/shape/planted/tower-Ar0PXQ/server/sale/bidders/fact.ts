import type { Fact as Fact0 } from '../../sale/letters/fact'
import type { Fact as Fact1 } from '../../sale/history/fact'
export type Fact = Fact0
