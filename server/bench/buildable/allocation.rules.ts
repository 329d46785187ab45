/** So many pieces from any of these shelves, the first named preferred. */
export interface Demand {
  quantity: number
  shelves: readonly number[]
}

interface Link {
  shelf: number
  flow: number
}

/**
 * Lays demands against shelves, one after another. A later demand may move an earlier one to another shelf, and
 * never takes a piece from it: what is filled stays filled. Over all demands the sum is the greatest possible (each
 * demand is filled along augmenting paths, Ford and Fulkerson 1956), whatever their order.
 */
export class Allocation {
  private readonly left: number[] = []
  private readonly held: { wanted: number; got: number; links: Link[] }[] = []
  /** Links with pieces on them, shelf by shelf: who might move elsewhere. */
  private readonly takers: Map<number, Link>[] = []

  /** Adds a shelf with so many pieces; its number. */
  addShelf(quantity: number): number {
    this.left.push(quantity)
    this.takers.push(new Map())
    return this.left.length - 1
  }

  /** Puts more on a shelf. */
  stock(shelf: number, quantity: number): void {
    this.left[shelf] = (this.left[shelf] ?? 0) + quantity
  }

  add(demand: Demand): number {
    this.held.push({ wanted: demand.quantity, got: 0, links: demand.shelves.map((shelf) => ({ shelf, flow: 0 })) })
    return this.held.length - 1
  }

  /** Fills a demand as far as it goes; how many it still lacks. */
  fill(demand: number): number {
    const row = this.row(demand)
    while (row.got < row.wanted) {
      const path = this.pathFrom(demand)
      if (!path) break
      const most = Math.min(row.wanted - row.got, path.room)
      for (const step of path.steps) this.move(step.demand, step.link, step.sign * most)
      this.left[path.shelf] = (this.left[path.shelf] ?? 0) - most
      row.got += most
    }
    return row.wanted - row.got
  }

  /** Gives everything back that these demands hold. */
  release(demands: readonly number[]): void {
    for (const demand of demands) {
      const row = this.row(demand)
      for (const link of row.links) {
        this.stock(link.shelf, link.flow)
        if (link.flow > 0) this.move(demand, link, -link.flow)
      }
      row.got = 0
    }
  }

  lacks(demand: number): number {
    const { wanted, got } = this.row(demand)
    return wanted - got
  }

  /** How many a demand holds from each shelf. */
  from(demand: number): { shelf: number; quantity: number }[] {
    return this.row(demand)
      .links.filter(({ flow }) => flow > 0)
      .map(({ shelf, flow }) => ({ shelf, quantity: flow }))
  }

  private row(demand: number) {
    const row = this.held[demand]
    if (!row) throw new Error(`there is no demand ${demand}`)
    return row
  }

  private move(demand: number, link: Link, by: number): void {
    link.flow += by
    const takers = this.takers[link.shelf]
    if (link.flow > 0) takers?.set(demand, link)
    else takers?.delete(demand)
  }

  /** The shortest way from a demand to a shelf with pieces left, through demands that can move to other shelves. */
  private pathFrom(start: number): Path | null {
    const cameTo = new Map<number, { demand: number; link: Link; before: number | null; gives: Link | null }>()
    const queue: { demand: number; before: number | null; gives: Link | null }[] = [{ demand: start, before: null, gives: null }]
    const asked = new Set([start])
    for (let at = queue.shift(); at; at = queue.shift()) {
      for (const link of this.row(at.demand).links) {
        if (cameTo.has(link.shelf)) continue
        cameTo.set(link.shelf, { demand: at.demand, link, before: at.before, gives: at.gives })
        if ((this.left[link.shelf] ?? 0) > 0) return this.pathBack(link.shelf, cameTo)
        for (const [demand, taken] of this.takers[link.shelf] ?? []) {
          if (asked.has(demand)) continue
          asked.add(demand)
          queue.push({ demand, before: link.shelf, gives: taken })
        }
      }
    }
    return null
  }

  private pathBack(
    end: number,
    cameTo: ReadonlyMap<number, { demand: number; link: Link; before: number | null; gives: Link | null }>,
  ): Path {
    const steps: Path['steps'] = []
    let room = this.left[end] ?? 0
    for (let shelf: number | null = end; shelf !== null; ) {
      const step = cameTo.get(shelf)
      if (!step) break
      steps.push({ demand: step.demand, link: step.link, sign: 1 })
      if (step.gives) {
        room = Math.min(room, step.gives.flow)
        steps.push({ demand: step.demand, link: step.gives, sign: -1 })
      }
      shelf = step.before
    }
    return { shelf: end, room, steps }
  }
}

interface Path {
  shelf: number
  room: number
  steps: { demand: number; link: Link; sign: 1 | -1 }[]
}
