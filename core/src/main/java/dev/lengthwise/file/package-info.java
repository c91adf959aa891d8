/**
 * Files of the user: written whole or not at all, locked, and named in messages so that nothing in
 * a name can mislead.
 */
package dev.lengthwise.file;
