import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { freePort, neighbour } from './neighbour'

const ROOT = join(import.meta.dirname, '..', '..')

const OPENSSL = '/usr/bin/openssl'

/** nginx: the system's, or Debian's as the suite unpacked it. Null where there is none, or nothing to make a certificate with. */
export const NGINX: string | null = !existsSync(OPENSSL) ? null : neighbour('nginx', 'usr/sbin/nginx', 'usr/bin/nginx')

export interface Nginx {
  /** Ports of https and of http. */
  https: number
  http: number
  /** The certificate, which no client knows unless it is told to trust it. */
  certificate: string
  stop(): Promise<void>
}

/**
 * Starts nginx on the guide's own file before a house on a port. Changed in it are ports, the folder of the certificate, and
 * where the parts that other tests stand on would be: nothing of what it decides.
 */
export const openNginx = (housePort: number): Promise<Nginx> =>
  openNginxOn(join('web', 'nginx.conf'), (site) => site.replace('server 127.0.0.1:4170;', `server 127.0.0.1:${housePort};`))

/** The same before relays: on the file of their guide. */
export const openNginxBeforeRelays = (ports: readonly [number, number]): Promise<Nginx> =>
  openNginxOn(join('relay', 'nginx.conf'), (site) =>
    site.replace('server 10.0.0.11:4170', `server 127.0.0.1:${ports[0]}`).replace('server 10.0.0.12:4170', `server 127.0.0.1:${ports[1]}`),
  )

async function openNginxOn(file: string, place: (site: string) => string): Promise<Nginx> {
  if (NGINX === null) throw new Error('there is no nginx')
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-nginx-'))
  const [https, http] = [await freePort(), await freePort()]
  const made = spawnSync(
    OPENSSL,
    // biome-ignore format: as one would type it
    ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:P-256', '-nodes', '-days', '2', '-subj', '/CN=auction.example',
      '-addext', 'subjectAltName=DNS:auction.example', '-keyout', join(dir, 'key.pem'), '-out', join(dir, 'fullchain.pem')],
  )
  if (made.status !== 0) throw new Error(`no certificate could be made: ${made.stderr}`)
  const site = place(readFileSync(join(ROOT, 'server', 'doors', file), 'utf8'))
    .replaceAll('/etc/ssl/auction.example', dir)
    .replace('listen 80;', `listen 127.0.0.1:${http};`)
    .replace('listen 443 ssl http2;', `listen 127.0.0.1:${https} ssl http2;`)
  writeFileSync(join(dir, 'site.conf'), site)
  const temporary = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi'].map((name) => `${name}_temp_path ${dir}/${name};`).join('\n')
  // What surrounds a file of conf.d in Debian's own configuration, with nothing written outside this folder.
  writeFileSync(
    join(dir, 'nginx.conf'),
    `daemon off; ${process.getuid?.() === 0 ? 'user root;' : ''} worker_processes 1; pid ${dir}/pid; error_log ${dir}/error.log;
events { worker_connections 768; }
http { access_log off; ${temporary} types_hash_max_size 2048; include ${dir}/site.conf; }`,
  )
  const child = spawn(NGINX, ['-e', join(dir, 'error.log'), '-p', dir, '-c', join(dir, 'nginx.conf')], {
    stdio: ['ignore', 'ignore', 'pipe'],
  })
  let complaint = ''
  child.stderr.on('data', (part) => {
    complaint += part
  })
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  for (let tries = 0; ; tries++) {
    if (await fetch(`http://127.0.0.1:${http}/`, { redirect: 'manual' }).catch(() => null)) break
    if (tries > 100 || child.exitCode !== null) throw new Error(`nginx did not start: ${complaint}`)
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  return {
    https,
    http,
    certificate: readFileSync(join(dir, 'fullchain.pem'), 'utf8'),
    stop: async () => {
      child.kill('SIGTERM')
      await gone
      rmSync(dir, { recursive: true, force: true })
    },
  }
}
