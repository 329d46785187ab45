import type { Fact as Fact0 } from '../../floor/lot-page/fact'
import type { Fact as Fact1 } from '../../floor/quarantine/fact'
export type Fact = Fact0
