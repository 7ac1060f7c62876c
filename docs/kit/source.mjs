// What the pages of the larger widgets are made of: https://preactjs.com components, written as htm templates.
import htm from "htm";
import { h, render } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";

const html = htm.bind(h);

export { html, render as mount, useEffect, useLayoutEffect, useRef, useState };
