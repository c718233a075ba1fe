"""Function words by which a text's language is told. Data only.

Each list holds common words of its language that are not common words of the other lists, lower case. The choice is ours; the tests
hold it against the first article of the Universal Declaration of Human Rights in each language.
"""

from __future__ import annotations

ENGLISH = (
    "the and with each both from onto that this these are not it when which through have has must should before after into its between "
    "them they until where there your you will one two all every other first then thru ea"
)

OTHERS = {
    "Danish": "og ikke af skal eller hver med til fra den det efter mellem som også bliver sæt på hvert",
    "Dutch": "het een van zijn worden niet met aan ook voor door elke naar zij moeten deze tussen en bij wordt iedere",
    "French": "les des une est sur avec dans pour chaque du et aux doivent être ils qui entre puis sont leur",
    "German": "der die das und mit den dem ein eine einen auf jede jeden jedem werden wird nicht sind von zu im ist oder",
    "Italian": "il gli della delle una con ogni sono devono che nel essere di dei alla ed e lo per tra su dal",
    "Polish": "się na oraz jest nie każdy każdej do przez są lub przed po dla ich być które w z i",
    "Portuguese": "os uma com cada são não em dos das devem ser ao pelo entre para e nas nos aos do da",
    "Spanish": "los las una con cada son del en el y por deben ser al entre como están para sus que de",
    "Swedish": "och att inte är ska med till från varje eller den det som på av mellan sätt efter har",
}
