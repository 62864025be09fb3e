/**
 * What is left out of bundles: svgdom's font engine, image and markup readers (the drawings bring their own widths of
 * letters, have no images and read no markup) and zod's translations. Each would be read and compiled at every start.
 */
export const leftOut = {
  name: 'left-out',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^(fontkit|image-size|sax)$/ }, ({ path }) => ({ path, namespace: 'left-out' }));
    onResolve({ filter: /locales\/index\.js$/ }, ({ path }) => ({ path, namespace: 'left-out' }));
    onLoad({ filter: /.*/, namespace: 'left-out' }, () => ({
      contents: 'export default {}; export const create = undefined; export const openSync = undefined;',
    }));
  },
};
