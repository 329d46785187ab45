import type { Fact as Fact0 } from '../../end/close-out/fact'
import type { Fact as Fact1 } from '../../end/packs/fact'
export type Fact = Fact0
