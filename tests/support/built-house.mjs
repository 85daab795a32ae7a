/** A module of the program as it is built in dist/: Node starts that faster than the sources, and it is what people run. */
export const builtHouse = (path) => import(new URL(`../../dist/${path}`, import.meta.url).href);
