/**
 * The server of the live view as an attacker meets it: other names for this machine (DNS rebinding), other pages'
 * origins, other paths, methods and addresses. Requests go over a bare socket, so that nothing tidies them up.
 */
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type LiveServer, serveLive } from '../../src/serve/server.ts';

let server: LiveServer;
let port = 0;

beforeAll(async () => {
  const served = await serveLive(0, { page: '<p>page</p>', ring: () => '{"secret":1}', version: () => 7 });
  if (!served.ok) throw new Error(served.problems[0]?.message);
  server = served.value;
  port = Number(new URL(server.url).port);
});
afterAll(() => server.close());

/** Sends lines as they are; the answer as one text. */
const send = (...lines: readonly string[]): Promise<string> =>
  new Promise((done, failed) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(`${lines.join('\r\n')}\r\n\r\n`));
    let answer = '';
    socket.setEncoding('utf8');
    socket.on('data', (text) => {
      answer += text;
    });
    socket.on('end', () => done(answer));
    socket.on('error', failed);
  });

const own = () => `Host: 127.0.0.1:${port}`;
const get = (path: string, ...headers: readonly string[]): Promise<string> =>
  send(`GET ${path} HTTP/1.1`, own(), 'Connection: close', ...headers);
const status = (answer: string): number => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]);

it('answers its own page', async () => {
  const page = await get('/');
  expect(status(page)).toBe(200);
  expect(page).toContain('<p>page</p>');
  expect(page).toContain("Content-Security-Policy: frame-ancestors 'none'");
  expect(page).toContain('X-Content-Type-Options: nosniff');
  expect(page).toContain('Cross-Origin-Resource-Policy: same-origin');
  expect(page).not.toContain('Access-Control-Allow');
  expect(await get('/ring')).toContain('{"secret":1}');
  expect(await send('GET /ring HTTP/1.1', `Host: localhost:${port}`, 'Connection: close')).toContain(
    'secret',
  );
  expect(await get('/ring', `Origin: http://127.0.0.1:${port}`)).toContain('secret');
});

it.each([
  'evil.example',
  'evil.example:80',
  '127.0.0.1',
  '127.0.0.1:1',
  '127.0.0.1.evil.example',
  'localhost.evil.example',
  '[::1]',
  '',
])('refuses the Host "%s"', async (host) => {
  for (const name of [host, host === '' ? '' : `${host}:${port}`].filter(
    (one) => one !== `127.0.0.1:${port}`,
  )) {
    const answer = await send('GET /ring HTTP/1.1', `Host: ${name}`, 'Connection: close');
    expect([name, [400, 421].includes(status(answer))]).toEqual([name, true]);
    expect(answer).not.toContain('secret');
  }
});

it('refuses no Host and two of them', async () => {
  for (const lines of [
    ['GET /ring HTTP/1.0'],
    ['GET /ring HTTP/1.1', own(), 'Host: evil.example', 'Connection: close'],
    ['GET /ring HTTP/1.1', 'Host: evil.example', own(), 'Connection: close'],
  ]) {
    const answer = await send(...lines);
    expect([400, 421]).toContain(status(answer));
    expect(answer).not.toContain('secret');
  }
});

it.each([
  'http://evil.example',
  'https://evil.example',
  'null',
  'http://127.0.0.1',
  'http://127.0.0.1:1',
  'http://localhost.evil.example',
  'file://',
])('refuses the Origin %s', async (origin) => {
  for (const path of ['/', '/ring', '/events']) {
    const answer = await get(path, `Origin: ${origin}`);
    expect([path, status(answer)]).toEqual([path, 403]);
    expect(answer).not.toContain('secret');
  }
});

it('refuses what a browser says another page asks for, but not a link that is followed', async () => {
  for (const site of ['cross-site', 'same-site'])
    for (const mode of ['no-cors', 'cors', 'navigate'])
      expect(status(await get('/ring', `Sec-Fetch-Site: ${site}`, `Sec-Fetch-Mode: ${mode}`))).toBe(403);
  expect(status(await get('/', 'Sec-Fetch-Site: cross-site', 'Sec-Fetch-Mode: no-cors'))).toBe(403);
  expect(status(await get('/', 'Sec-Fetch-Site: cross-site', 'Sec-Fetch-Mode: navigate'))).toBe(200);
  expect(status(await get('/ring', 'Sec-Fetch-Site: same-origin', 'Sec-Fetch-Mode: cors'))).toBe(200);
});

it.each([
  '/package.json',
  '/../package.json',
  '/..%2fpackage.json',
  '/%2e%2e/%2e%2e/etc/passwd',
  '//etc/passwd',
  '/ring/',
  '/ring?x',
  '/RING',
  '/./ring',
  '/ring%00',
  'http://evil.example/ring',
  '/favicon.ico',
  `/${'a'.repeat(4000)}`,
])('has nothing at %s', async (path) => {
  const answer = await get(path);
  expect(status(answer)).toBe(404);
  expect(answer.split('\r\n\r\n')[1]).toBe('there is nothing here\n');
});

it.each(['POST', 'PUT', 'DELETE', 'OPTIONS', 'PATCH', 'TRACE'])('takes no %s', async (method) => {
  expect(
    status(await send(`${method} /ring HTTP/1.1`, own(), 'Content-Length: 0', 'Connection: close')),
  ).toBe(405);
});

it('survives what is no request', async () => {
  await send('\u0000\u0001 nonsense').catch(() => undefined);
  expect(status(await get('/'))).toBe(200);
});

it('listens on the loopback address only', async () => {
  const outward = Object.values(networkInterfaces())
    .flat()
    .filter((one) => one !== undefined && one.family === 'IPv4' && !one.internal);
  const reached = await Promise.all(
    outward.map(
      (one) =>
        new Promise<boolean>((done) => {
          const socket = connect({ host: one?.address ?? '', port, timeout: 2000 }, () => {
            socket.destroy();
            done(true);
          });
          socket.on('error', () => done(false));
          socket.on('timeout', () => {
            socket.destroy();
            done(false);
          });
        }),
    ),
  );
  expect(reached.filter(Boolean)).toEqual([]);
  expect(new URL(server.url).hostname).toBe('127.0.0.1');
});

it('tells open pages of each change, and forgets those that go', async () => {
  const heard: string[] = [];
  const socket = connect(port, '127.0.0.1', () => socket.write(`GET /events HTTP/1.1\r\n${own()}\r\n\r\n`));
  const until = (text: string): Promise<void> =>
    new Promise((done) => {
      const look = () => (heard.join('').includes(text) ? done() : setTimeout(look, 5));
      look();
    });
  socket.setEncoding('utf8');
  socket.on('data', (text) => heard.push(String(text)));
  await until('data: 7\n\n');
  heard.length = 0;
  server.publish();
  await until('data: 7\n\n');
  socket.destroy();
  for (let i = 0; i < 50; i++) server.publish();
  expect(status(await get('/'))).toBe(200);
});

it('opens no more streams than it can serve', async () => {
  const sockets = Array.from({ length: 40 }, () => connect(port, '127.0.0.1'));
  const first = await Promise.all(
    sockets.map(
      (socket) =>
        new Promise<number>((done) => {
          socket.setEncoding('utf8');
          socket.once('data', (text) => done(status(String(text))));
          socket.write(`GET /events HTTP/1.1\r\n${own()}\r\n\r\n`);
        }),
    ),
  );
  expect(first.filter((one) => one === 200)).toHaveLength(32);
  expect(first.filter((one) => one === 503)).toHaveLength(8);
  for (const socket of sockets) socket.destroy();
});

it('says so where the port is taken', async () => {
  const second = await serveLive(port, { page: '', ring: () => '', version: () => 0 });
  expect(second).toMatchObject({ ok: false, problems: [{ code: 'port-taken' }] });
});
