/** What of the kit the pages use; its own types are at preactjs.com. */
export function html(strings: TemplateStringsArray, ...values: any[]): any;
export function mount(node: any, into: Element): void;
export function useEffect(does: () => void | (() => void), follows?: readonly any[]): void;
export function useLayoutEffect(does: () => void | (() => void), follows?: readonly any[]): void;
export function useRef<T>(start: T): { current: T };
export function useState<T>(start: T | (() => T)): [T, (next: T | ((was: T) => T)) => void];
