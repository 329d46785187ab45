import type { AddressInfo } from 'node:net'
import { type DoorParts, openDoor } from '#doors/web/door'
import { serverFor } from '#doors/web/server'
import type { Stage } from '#test/stage'

/** The door of a stage's house on a port of its own; pages answer 404 here, they have journeys of theirs. */
export async function openStageDoor(stage: Stage, wishes: Partial<Pick<DoorParts, 'trustedProxy' | 'bodies' | 'pages'>> = {}) {
  const door = openDoor({
    house: stage.house,
    trustedProxy: 'none',
    isDev: false,
    pages: async (_request, response) => {
      response.writeHead(404).end('a page')
    },
    ...wishes,
  })
  const server = serverFor(door)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  const sessionOf = async (personId: string) =>
    (await stage.house.signIn.openSession(personId, 'Firefox on Linux')).map((cookie) => cookie.split(';')[0]).join('; ')
  return {
    url: `http://127.0.0.1:${port}`,
    port,
    sessionOf,
    close: () => {
      server.closeAllConnections()
      server.close()
    },
  }
}
