import type { Fact as Fact0 } from '../../people/changes/fact'
import type { Fact as Fact1 } from '../../runtime/call/fact'
export type Fact = Fact0
