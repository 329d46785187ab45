import type { Fact as Fact0 } from '../../bench/certificates/fact'
import type { Fact as Fact1 } from '../../bench/buildable/fact'
export type Fact = Fact0
