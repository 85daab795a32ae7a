import ts from 'typescript';
import { codeRule } from './rule.js';

const isAboveForms = (path: string) => path.startsWith('src/desk/') && !path.startsWith('src/desk/forms/');

/** A label written by hand forgets its hint, its fault or its limit; the fields of src/desk/forms do not. */
export const fieldRule = codeRule('every labelled control is a field of src/desk/forms', isAboveForms, (node) => {
  const isElement = ts.isJsxOpeningElement(node) || ts.isJsxSelfClosingElement(node);
  return isElement && node.tagName.getText() === 'label'
    ? 'use Field, CheckboxField, ChoiceField, FileField, PictureInput or Slider'
    : undefined;
});
