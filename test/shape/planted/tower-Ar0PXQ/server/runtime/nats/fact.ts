import type { Fact as Fact0 } from '../../runtime/queue/fact'
import type { Fact as Fact1 } from '../../runtime/settings/fact'
export type Fact = Fact0
