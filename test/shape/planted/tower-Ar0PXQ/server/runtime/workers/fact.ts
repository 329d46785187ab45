import type { Fact as Fact0 } from '../../runtime/call/fact'
import type { Fact as Fact1 } from '../../runtime/relay/fact'
export type Fact = Fact0
