import type { Fact as Fact0 } from '../../runtime/relay/fact'
import type { Fact as Fact1 } from '../../runtime/standby/fact'
export type Fact = Fact0
