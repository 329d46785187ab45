import type { Fact as Fact0 } from '../../floor/quarantine/fact'
import type { Fact as Fact1 } from '../../floor/rack/fact'
export type Fact = Fact0
