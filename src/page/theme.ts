/** Light or dark: as the system has it until the button is pressed. */
import { part } from './dom.ts';

export function themeButton(): void {
  const button = part('theme', HTMLButtonElement);
  const root = document.documentElement;
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const isDark = (): boolean => (root.dataset.theme ?? (dark.matches ? 'dark' : 'light')) === 'dark';
  const say = (): void => {
    button.textContent = isDark() ? 'Light page' : 'Dark page';
  };
  button.addEventListener('click', () => {
    root.dataset.theme = isDark() ? 'light' : 'dark';
    say();
  });
  dark.addEventListener('change', say);
  say();
}
