/**
 * The live view's server: on the loopback address only, three fixed answers and nothing else. No part of a request
 * is ever a path of the file system; a request that a page from elsewhere has sent, or that came by another name for
 * this machine, is refused.
 */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { failed, found, type Outcome } from '../problems/problem.ts';

const LOOPBACK = '127.0.0.1';

export interface Answers {
  /** The page, as HTML. */
  readonly page: string;
  /** What the page shows now, as JSON. */
  readonly ring: () => string;
  readonly version: () => number;
}

export interface LiveServer {
  readonly url: string;
  /** Tells every open page that there is something new. */
  readonly publish: () => void;
  readonly close: () => Promise<void>;
}

/** Pages that can be open at once, and connections of any kind. */
const MOST_STREAMS = 32;
const MOST_CONNECTIONS = 128;
/** A page that has left so many bytes unread has gone to sleep; it asks again when it wakes. */
const UNREAD = 16_384;
const HEARTBEAT = 15_000;

const HEADERS = {
  'Cache-Control': 'no-store',
  'Content-Security-Policy': "frame-ancestors 'none'",
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
} as const;

/** Starts the server; port 0 takes any free one. */
export function serveLive(port: number, answers: Answers): Promise<Outcome<LiveServer>> {
  const streams = new Set<ServerResponse>();
  let hosts: ReadonlySet<string> = new Set();
  const server = createServer((request, response) => {
    const refused = refusal(request, hosts);
    if (refused === undefined) return answer(request, response, answers, streams);
    reply(response, refused.status, 'text/plain; charset=utf-8', `${refused.reason}\n`);
  });
  server.maxConnections = MOST_CONNECTIONS;
  server.on('clientError', (_error, socket) => socket.destroy());
  const write = (text: string): void => {
    for (const stream of streams) {
      if (stream.writableLength > UNREAD) stream.destroy();
      else stream.write(text);
    }
  };
  const heartbeat = setInterval(() => write(':\n\n'), HEARTBEAT);
  heartbeat.unref();

  return new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      clearInterval(heartbeat);
      resolve(cannotListen(port, error));
    });
    server.listen(port, LOOPBACK, () => {
      const own = portOf(server);
      const names = [LOOPBACK, 'localhost'];
      hosts = new Set([...names.map((name) => `${name}:${own}`), ...(own === 80 ? names : [])]);
      resolve(
        found({
          url: `http://${LOOPBACK}:${own}/`,
          publish: () => write(event(answers.version())),
          close: () => {
            clearInterval(heartbeat);
            for (const stream of streams) stream.end();
            return new Promise((closed) => {
              server.close(() => closed());
              server.closeAllConnections();
            });
          },
        }),
      );
    });
  });
}

function portOf(server: Server): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

function cannotListen(port: number, { code, message }: NodeJS.ErrnoException): Outcome<never> {
  const mend = 'choose another --port, or leave it out and any free one is taken';
  if (code === 'EADDRINUSE')
    return failed({ code: 'port-taken', message: `port ${port} is taken by another program`, mend });
  if (code === 'EACCES')
    return failed({ code: 'port-not-allowed', message: `port ${port} may not be used`, mend });
  return failed({ code: 'cannot-serve', message: `port ${port} cannot be used: ${message}`, mend });
}

interface Refusal {
  readonly status: number;
  readonly reason: string;
}

/** Why a request gets no answer; undefined where it does. */
function refusal(
  { headers, rawHeaders, method, url }: IncomingMessage,
  hosts: ReadonlySet<string>,
): Refusal | undefined {
  const names = rawHeaders.filter((_, i) => i % 2 === 0).map((name) => name.toLowerCase());
  const { host, origin } = headers;
  if (
    host === undefined ||
    !hosts.has(host.toLowerCase()) ||
    names.filter((name) => name === 'host').length > 1
  )
    return { status: 421, reason: 'this server answers to its own address only' };
  if (origin !== undefined && ![...hosts].some((own) => origin.toLowerCase() === `http://${own}`))
    return { status: 403, reason: 'requests of other pages are refused' };
  // Where a browser says who asks: only this page itself, or a person who follows a link to it.
  const [site, mode] = [headers['sec-fetch-site'], headers['sec-fetch-mode']];
  const visits = mode === 'navigate' && url === '/';
  if (site !== undefined && site !== 'same-origin' && site !== 'none' && !visits)
    return { status: 403, reason: 'requests of other pages are refused' };
  if (method !== 'GET' && method !== 'HEAD') return { status: 405, reason: 'only GET is answered' };
  return undefined;
}

function answer(
  request: IncomingMessage,
  response: ServerResponse,
  answers: Answers,
  streams: Set<ServerResponse>,
): void {
  switch (request.url) {
    case '/':
      reply(response, 200, 'text/html; charset=utf-8', answers.page);
      return;
    case '/ring':
      reply(response, 200, 'application/json; charset=utf-8', answers.ring());
      return;
    case '/events':
      if (request.method === 'HEAD' || streams.size >= MOST_STREAMS)
        reply(response, 503, 'text/plain; charset=utf-8', 'too many pages are open\n');
      else open(response, answers, streams);
      return;
    default:
      reply(response, 404, 'text/plain; charset=utf-8', 'there is nothing here\n');
      return;
  }
}

const event = (version: number): string => `data: ${version}\n\n`;

function open(response: ServerResponse, answers: Answers, streams: Set<ServerResponse>): void {
  response.writeHead(200, { ...HEADERS, 'Content-Type': 'text/event-stream; charset=utf-8' });
  response.write(`retry: 500\n${event(answers.version())}`);
  streams.add(response);
  response.on('close', () => streams.delete(response));
}

function reply(response: ServerResponse, status: number, type: string, text: string): void {
  const bytes = Buffer.from(text, 'utf8');
  response.writeHead(status, { ...HEADERS, 'Content-Type': type, 'Content-Length': bytes.length });
  response.end(bytes);
}
