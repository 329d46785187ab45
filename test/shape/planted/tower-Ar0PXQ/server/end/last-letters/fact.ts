import type { Fact as Fact0 } from '../../end/packs/fact'
import type { Fact as Fact1 } from '../../end/statement/fact'
export type Fact = Fact0
