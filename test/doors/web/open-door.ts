import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { openDoor } from '#doors/web/door'
import type { Stage } from '#test/stage'

/** The door of a stage's house on a port of its own; pages answer 404 here, they have journeys of theirs. */
export async function openStageDoor(stage: Stage) {
  const door = openDoor({
    house: stage.house,
    trustedProxy: 'none',
    isDev: false,
    pages: async (_request, response) => {
      response.writeHead(404).end('a page')
    },
  })
  const server = createServer(door)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  const sessionOf = async (personId: string) =>
    (await stage.house.signIn.openSession(personId)).map((cookie) => cookie.split(';')[0]).join('; ')
  return {
    url,
    sessionOf,
    close: () => {
      server.closeAllConnections()
      server.close()
    },
  }
}
