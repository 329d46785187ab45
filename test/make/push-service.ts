import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { buffer } from 'node:stream/consumers'
import { makeBrowser, readSender } from './push-browser'

interface CameIn {
  path: string
  sender: ReturnType<typeof readSender>
  ttl: number
  topic: string
  urgency: string
  bytes: number
  body: Buffer
}

/** A push service on this machine. It answers 201 unless it is told otherwise for an address. */
export async function openPushService() {
  const came: CameIn[] = []
  const answers = new Map<string, number[]>()
  let origin = ''
  const server = createServer(async (request, response) => {
    const path = request.url ?? ''
    const body = await buffer(request)
    const status = answers.get(path)?.shift() ?? 201
    if (status < 300)
      came.push({
        path,
        sender: readSender(request.headers.authorization ?? '', origin),
        ttl: Number(request.headers.ttl),
        topic: String(request.headers.topic),
        urgency: String(request.headers.urgency),
        bytes: body.length,
        body,
      })
    response.writeHead(status, { location: `${origin}/elsewhere` }).end()
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  let made = 0
  return {
    origin,
    came,
    /** What it answers there next, in this order. */
    answer: (path: string, ...statuses: number[]) => void answers.set(path, statuses),
    browser() {
      const path = `/push/${++made}`
      return { path, ...makeBrowser(`${origin}${path}`) }
    },
    close: () => new Promise<void>((resolve) => server.close(() => resolve())),
  }
}
