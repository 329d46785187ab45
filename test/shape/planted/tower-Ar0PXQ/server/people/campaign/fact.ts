import type { Fact as Fact0 } from '../../people/sign-in/fact'
import type { Fact as Fact1 } from '../../people/changes/fact'
export type Fact = Fact0
