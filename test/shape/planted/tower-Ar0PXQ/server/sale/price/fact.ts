import type { Fact as Fact0 } from '../../sale/lots/fact'
import type { Fact as Fact1 } from '../../bench/certificates/fact'
export type Fact = Fact0
