import type { NextConfig } from 'next'

const config: NextConfig = {
  distDir: process.env.NEXT_DIST_DIR ?? '.next',
  poweredByHeader: false,
  reactStrictMode: true,
  devIndicators: false,
  images: { unoptimized: true },
  // Types are checked by the test command, over everything and not only over pages.
  typescript: { ignoreBuildErrors: true },
  outputFileTracingRoot: import.meta.dirname,
  turbopack: { root: import.meta.dirname },
  // The pages of closing out stood there at first: what was printed or kept as a bookmark still leads to them.
  redirects: async () => [{ source: '/bench/keeping/:path*', destination: '/bench/close-out/:path*', permanent: true }],
}

export default config
