import type { Fact as Fact0 } from '../../house/drill/fact'
export type Fact = Fact0
