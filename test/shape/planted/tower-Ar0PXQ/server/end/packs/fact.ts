import type { Fact as Fact0 } from '../../end/deletion/fact'
import type { Fact as Fact1 } from '../../end/last-letters/fact'
export type Fact = Fact0
