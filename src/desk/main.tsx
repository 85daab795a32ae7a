import '@fontsource-variable/source-sans-3';
import './look/tokens.css';
import './look/page.css';
import './look/parts.css';
import { render } from 'preact';
import { Desk } from './desk';

const root = document.getElementById('desk');
if (!root) throw new Error('The page has no place for the desk.');
render(<Desk />, root);
