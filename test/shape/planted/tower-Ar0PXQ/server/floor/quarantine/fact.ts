import type { Fact as Fact0 } from '../../floor/record/fact'
import type { Fact as Fact1 } from '../../floor/bringup/fact'
export type Fact = Fact0
