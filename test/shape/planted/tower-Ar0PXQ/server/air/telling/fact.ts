import type { Fact as Fact0 } from '../../air/screens/fact'
import type { Fact as Fact1 } from '../../floor/lot-page/fact'
export type Fact = Fact0
