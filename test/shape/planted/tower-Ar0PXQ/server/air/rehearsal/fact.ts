import type { Fact as Fact0 } from '../../end/statement/fact'
import type { Fact as Fact1 } from '../../air/screens/fact'
export type Fact = Fact0
