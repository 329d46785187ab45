import type { Fact as Fact0 } from '../../air/telling/fact'
import type { Fact as Fact1 } from '../../floor/record/fact'
export type Fact = Fact0
