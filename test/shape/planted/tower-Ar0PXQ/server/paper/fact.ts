import type { Fact as Fact0 } from '../runtime/settings/fact'
import type { Fact as Fact1 } from '../kernel/fact'
export type Fact = Fact0
