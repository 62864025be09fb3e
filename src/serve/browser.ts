/** Opens the page in the person's browser. That it cannot be opened is no error: the address is printed too. */
import { spawn } from 'node:child_process';

export function openBrowser(url: string): void {
  const [program, ...args] =
    process.platform === 'darwin'
      ? ['open', url]
      : process.platform === 'win32'
        ? ['cmd', '/c', 'start', '""', url]
        : ['xdg-open', url];
  if (program === undefined) return;
  const opened = spawn(program, args, { stdio: 'ignore', detached: true });
  opened.on('error', () => {});
  opened.unref();
}
