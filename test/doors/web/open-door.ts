import type { AddressInfo } from 'node:net'
import { type DoorParts, openDoor } from '#doors/web/door'
import { openHeaders } from '#doors/web/headers'
import { openLeave } from '#doors/web/leave'
import { serverFor } from '#doors/web/server'
import type { Stage } from '#test/stage'

/** The door of a stage's house on a port of its own; pages answer 404 here, they have journeys of theirs. */
export async function openStageDoor(
  stage: Stage,
  wishes: Partial<Pick<DoorParts, 'trustedProxy' | 'bodies' | 'pages' | 'files' | 'keptPages' | 'securityContact' | 'metricsKey'>> = {},
) {
  const door = openDoor({
    house: stage.house,
    trustedProxy: 'none',
    isDev: false,
    pages: async (_request, response) => {
      response.writeHead(404).end('a page')
    },
    ...wishes,
  })
  const headers = openHeaders({ publicUrl: stage.house.publicUrl, isDev: false })
  const leave = openLeave(door, headers)
  const server = serverFor(leave.door, headers, stage.house.openFiles.mostConnections)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  const sessionOf = async (personId: string) =>
    (await stage.house.signIn.openSession(personId, 'Firefox on Linux')).map((cookie) => cookie.split(';')[0]).join('; ')
  return {
    url: `http://127.0.0.1:${port}`,
    port,
    sessionOf,
    /** Ends as the served house does when it is told to. */
    leave: async () => {
      stage.house.hub.close()
      await leave.begin(server, 5_000)
    },
    close: () => {
      server.closeAllConnections()
      server.close()
    },
  }
}
