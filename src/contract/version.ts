/** Both ends must speak the same; an engine or a screen of another version is told so and left alone. */
export const CONTRACT_VERSION = 1
