/** Styles that the build puts beside the page. */
declare module '*.css'
